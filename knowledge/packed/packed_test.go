package packed_test

import (
	"errors"
	"math"
	"reflect"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"mallow/knowledge/packed"
)

type thing struct {
	Name  string
	Parts []thing
	Size  float64
	Count int
	Whole bool
	Over  *thing
}

func sample() thing {
	return thing{"a ½", []thing{{Size: -0.1}, {Count: -7, Parts: []thing{}}}, math.Pi, 1 << 40, true, &thing{Name: "b"}}
}

func key(text string) packed.Key {
	k := packed.NewKey()
	k.Type(reflect.TypeFor[thing]())
	k.Text(text)
	return k
}

func TestSealed(t *testing.T) {
	var w packed.Writer
	if err := w.Value(sample()); err != nil {
		t.Fatal(err)
	}
	sealed := string(w.Seal(key("one")))
	r, err := packed.Open(sealed, key("one"))
	if err != nil {
		t.Fatal(err)
	}
	var got thing
	r.Value(&got)
	if diff := cmp.Diff(sample(), got); diff != "" || r.Err() != nil {
		t.Errorf("%v, -want +got\n%s", r.Err(), diff)
	}
	if _, err := packed.Open(sealed, key("two")); !errors.Is(err, packed.ErrStale) {
		t.Errorf("another key: %v", err)
	}
	damaged := []byte(sealed)
	damaged[len(damaged)-3] ^= 1
	if _, err := packed.Open(string(damaged), key("one")); err == nil || errors.Is(err, packed.ErrStale) {
		t.Errorf("damaged: %v", err)
	}
	for n := range len(sealed) {
		if _, err := packed.Open(sealed[:n], key("one")); err == nil {
			t.Errorf("the first %d bytes are opened", n)
		}
	}
}

// A key tells files and types apart.
func TestKey(t *testing.T) {
	files := func(name, text string) packed.Key {
		k := packed.NewKey()
		if err := k.Files(fstest.MapFS{name: {Data: []byte(text)}}); err != nil {
			t.Fatal(err)
		}
		return k
	}
	var w packed.Writer
	sealed := string(w.Seal(files("a.yaml", "x")))
	for _, k := range []packed.Key{files("a.yaml", "y"), files("b.yaml", "x"), packed.NewKey()} {
		if _, err := packed.Open(sealed, k); !errors.Is(err, packed.ErrStale) {
			t.Errorf("got %v", err)
		}
	}
	if _, err := packed.Open(sealed, files("a.yaml", "x")); err != nil {
		t.Error(err)
	}
}

// Whatever is read, reading ends, and says when it went wrong.
func FuzzReader(f *testing.F) {
	var w packed.Writer
	if err := w.Value(sample()); err != nil {
		f.Fatal(err)
	}
	f.Add(w.Raw())
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x7f})
	f.Fuzz(func(t *testing.T, data []byte) {
		var got thing
		r := packed.Raw(data)
		if r.Value(&got); r.Err() != nil {
			return
		}
		var w packed.Writer
		if err := w.Value(got); err != nil {
			t.Fatal(err)
		}
	})
}
