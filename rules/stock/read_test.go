package stock_test

import (
	"errors"
	"strings"
	"testing"

	"mallow/knowledge/knowledgetest"
	"mallow/rules/stock"
)

func TestReadBin(t *testing.T) {
	bin, err := stock.ReadBin(knowledgetest.Catalogue(t), "bin.yaml", []byte("poly-1-1/8: 4\nlatex-3/4x1/8: 1 ft\nwool-medium: 50 g\nbirch-14: 2\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := []stock.Item{{"poly-1-1/8", 4}, {"latex-3/4x1/8", 0.3048}, {"wool-medium", 0.05}, {"birch-14", 2}}
	for i, w := range want {
		if got := bin.Items[i]; got.Part != w.Part || got.Amount < w.Amount-1e-9 || got.Amount > w.Amount+1e-9 {
			t.Errorf("item %d is %v, want %v", i, got, w)
		}
	}
}

func TestReadBinErrors(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"unknown part", "poly-1-1/8: 1\npoly-1-1/9: 2\n", "bin.yaml:2:1: poly-1-1/9 is no part of the catalogue (did you mean \"poly-1-1/8\"?)"},
		{"below zero", "poly-1-1/8: -2\n", "bin.yaml:1:13: poly-1-1/8: -2 is no number of pieces"},
		{"length without a unit", "latex-3/4x1/8: 12\n", "bin.yaml:1:16: latex-3/4x1/8"},
		{"length below zero", "latex-3/4x1/8: -1 ft\n", "bin.yaml:1:16: latex-3/4x1/8"},
		{"yarn in pieces", "wool-medium: two\n", "try 50 g or 40 m"},
		{"a list", "- poly-1-1/8\n", "bin.yaml:1:1: file: want fields with values, found a list"},
		{"a list in a list", "poly-1-1/8: [[1], 2]\n", "poly-1-1/8"},
		{"not YAML", "poly: [", "not YAML"},
		{"two documents", "poly-1-1/8: 1\n---\npoly-1: 1\n", "a second YAML document"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := stock.ReadBin(knowledgetest.Catalogue(t), "bin.yaml", []byte(tt.text))
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error is %v, want %q in it", err, tt.says)
			}
		})
	}
	for _, text := range []string{"", "# nothing yet\n", "{}\n"} {
		if _, err := stock.ReadBin(knowledgetest.Catalogue(t), "bin.yaml", []byte(text)); !errors.Is(err, stock.ErrEmptyBin) {
			t.Errorf("%q: error is %v, want ErrEmptyBin", text, err)
		}
	}
}

func FuzzReadBin(f *testing.F) {
	cat := knowledgetest.Catalogue(f)
	for _, seed := range []string{"poly-1-1/8: 4\n", "latex-3/4x1/8: 1 ft\nwool-medium: 40 m\n", "a: &a [*a]\n", "? [x]\n: y\n", "poly-1: 1e9"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		bin, err := stock.ReadBin(cat, "bin.yaml", data)
		if err != nil {
			return
		}
		if err := bin.Check(cat); err != nil {
			t.Errorf("a bin that was read does not check: %v", err)
		}
	})
}
