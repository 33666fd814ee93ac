package fault_test

import (
	"errors"
	"io/fs"
	"testing"

	"mallow/knowledge/fault"
)

func TestError(t *testing.T) {
	for want, e := range map[string]*fault.Error{
		"a head needs a core":            fault.Errorf("a head needs a %s", "core"),
		"a.yaml: too long":               {File: "a.yaml", What: "too long"},
		"a.yaml:3: odd":                  {File: "a.yaml", Line: 3, What: "odd"},
		"a.yaml:3:7: odd (one of 1 2 3)": {File: "a.yaml", Line: 3, Col: 7, What: "odd", Hint: "one of 1 2 3"},
	} {
		if e.Error() != want {
			t.Errorf("got %q, want %q", e.Error(), want)
		}
	}
	if err := fault.Errorf("bin: %w", fs.ErrNotExist); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the cause is lost")
	}
}

func TestSorted(t *testing.T) {
	es := fault.Errors{{File: "b", Line: 2, What: "x"}, {File: "a", Line: 9, What: "x", Layer: 1}, {File: "b", Line: 1, What: "x"}, {File: "b", Line: 2, What: "x"}}
	if got, want := es.Sorted().Error(), "b:1: x\nb:2: x\na:9: x"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if fault.Errors(nil).Err() != nil {
		t.Error("nothing wrong is an error")
	}
}
