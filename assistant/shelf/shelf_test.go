package shelf_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/shelf"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/stock"
)

func item(part string, amount float64) *stock.Bin {
	return &stock.Bin{Items: []stock.Item{{Part: part, Amount: amount}}}
}

// What is written is read back, and pieces add up where lengths stay apart.
func TestRoundTrip(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "deep", "shelf.yaml")
	err := shelf.Change(cat, path, func(s *shelf.Shelf) error {
		for _, b := range []*stock.Bin{item("poly-1", 4), item("poly-1", 6), item("latex-3/4x1/8", 0.3048), item("latex-3/4x1/8", 0.0127), item("birch-16", stock.Enough()), item("birch-16", 3), item("wool-medium", 0.05)} {
			s.Add(cat, b)
		}
		s.Paid["poly-1"] = shelf.Paid{Price: 450, Amount: 10}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"poly-1: 10\n", "latex-3/4x1/8: [12 in, 1/2 in]\n", "birch-16: enough\n", "wool-medium: 50 g\n", "poly-1: 4.50 for 10\n"} {
		if !strings.Contains(string(data), line) {
			t.Errorf("no %q in\n%s", line, data)
		}
	}
	s, err := shelf.Read(cat, path)
	if err != nil {
		t.Fatal(err)
	}
	again, err := s.Encode(cat)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(data), string(again)); d != "" {
		t.Errorf("written again it is another (-first +again):\n%s", d)
	}
	if worth, own, ok := s.Worth(cat, "poly-1", 5); worth != 225 || !own || !ok {
		t.Errorf("five of ten for 4.50 are worth %s, own %t", worth, own)
	}
}

// A length comes out of the shortest that will do, and nothing at all when
// anything falls short.
func TestTake(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	s, err := shelf.Decode(cat, "shelf.yaml", []byte("parts: {latex-3/4x1/8: [1 m, 20 cm], poly-1: 3, wool-medium: enough}"))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Take(cat, &stock.Bin{Items: []stock.Item{{Part: "latex-3/4x1/8", Amount: 0.15}, {Part: "poly-1", Amount: 4}}}); err == nil || s.Bin.OnHand("latex-3/4x1/8") != 1.2 {
		t.Errorf("four balls of three: %v, and %v m of tubing is left", err, s.Bin.OnHand("latex-3/4x1/8"))
	}
	if err := s.Take(cat, &stock.Bin{Items: []stock.Item{{Part: "latex-3/4x1/8", Amount: 0.15}, {Part: "poly-1", Amount: 3}, {Part: "wool-medium", Amount: 1}}}); err != nil {
		t.Fatal(err)
	}
	want := []stock.Item{{Part: "latex-3/4x1/8", Amount: 1}, {Part: "latex-3/4x1/8", Amount: 0.05}, {Part: "wool-medium", Amount: stock.Enough()}}
	if d := cmp.Diff(want, s.Bin.Items, cmp.Comparer(func(a, b float64) bool { return a == b || a-b < 1e-9 && b-a < 1e-9 })); d != "" {
		t.Error(d)
	}
}

// An error on the way leaves the file as it was.
func TestChangeFails(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "shelf.yaml")
	old := []byte("parts:\n    poly-1: 4\n")
	if err := os.WriteFile(path, old, 0o600); err != nil {
		t.Fatal(err)
	}
	wrong := errors.New("no")
	if err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Bin.Items = nil; return wrong }); !errors.Is(err, wrong) {
		t.Errorf("%v", err)
	}
	if data, _ := os.ReadFile(path); string(data) != string(old) {
		t.Errorf("the file is now %q", data)
	}
}

// Programs that change the shelf at once all get their turn.
// What could not be read again is never written.
func TestAddTooMany(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "shelf.yaml")
	if err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item("poly-1", 4)); return nil }); err != nil {
		t.Fatal(err)
	}
	was, _ := os.ReadFile(path)
	for _, amount := range []float64{9223372036854775807, 1e300, math.NaN()} {
		err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item("poly-1", amount)); return nil })
		if _, bad := shelf.Read(cat, path); bad != nil {
			t.Errorf("after %v pieces, %v: %v", amount, err, bad)
		}
		if now, _ := os.ReadFile(path); err != nil && string(now) != string(was) {
			t.Errorf("%v pieces failed, and yet the shelf has changed", amount)
		} else if err == nil {
			t.Errorf("%v pieces were taken", amount)
		}
	}
}

func TestAtOnce(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	path := filepath.Join(t.TempDir(), "shelf.yaml")
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 5 {
				if err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item("poly-1", 1)); return nil }); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	s, err := shelf.Read(cat, path)
	if err != nil || s.Bin.OnHand("poly-1") != 40 {
		t.Errorf("%v balls of 40, %v", s.Bin.OnHand("poly-1"), err)
	}
}

// TestKilled kills a program that keeps changing the shelf, again and again:
// whenever it dies, the file is whole.
func TestKilled(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	if path := os.Getenv("MALLOW_TEST_SHELF"); path != "" {
		for {
			if err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item("latex-3/4x1/8", 0.0254)); return nil }); err != nil {
				t.Fatal(err)
			}
		}
	}
	path := filepath.Join(t.TempDir(), "shelf.yaml")
	last := 0
	for i := range 6 {
		cmd := exec.Command(os.Args[0], "-test.run=^TestKilled$")
		cmd.Env = append(os.Environ(), "MALLOW_TEST_SHELF="+path)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(300*time.Millisecond + time.Duration(i)*37*time.Millisecond)
		cmd.Process.Kill()
		cmd.Wait()
		s, err := shelf.Read(cat, path)
		if err != nil {
			t.Fatalf("killed for the %dth time: %v", i+1, err)
		}
		if n := len(s.Bin.Items); n < last {
			t.Errorf("killed for the %dth time: %d lengths, there were %d", i+1, n, last)
		} else {
			last = n
		}
	}
	if last == 0 {
		t.Error("nothing was ever written; the test says nothing")
	}
}

func TestFullDisk(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	dir := t.TempDir()
	if err := syscall.Mount("mallow-test", dir, "tmpfs", 0, "size=32k"); err != nil {
		t.Skipf("no small disk to fill, since a tmpfs can't be mounted here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	path := filepath.Join(dir, "shelf.yaml")
	if err := shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item("poly-1", 4)); return nil }); err != nil {
		t.Fatal(err)
	}
	was, _ := os.ReadFile(path)
	err := shelf.Change(cat, path, func(s *shelf.Shelf) error {
		for i := range 5000 {
			s.Add(cat, item("latex-3/4x1/8", 0.1+float64(i)/1e4))
		}
		return nil
	})
	if err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("5000 lengths on a disk of 32 kB: %v", err)
	}
	if now, _ := os.ReadFile(path); string(now) != string(was) {
		t.Errorf("the shelf is no longer as it was: %d bytes", len(now))
	}
}

func FuzzDecode(f *testing.F) {
	cat := knowledgetest.Catalogue(f)
	for _, s := range []string{"parts: {poly-1: 4}", "parts: {latex-3/4x1/8: [1 m, 2 ft]}\npaid: {poly-1: 4 for 10}", "paid: {poly-1: x}", "a: &a [*a]", "parts: {birch-16: enough}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := shelf.Decode(cat, "shelf.yaml", data)
		if err != nil {
			return
		}
		text, err := s.Encode(cat)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := shelf.Decode(cat, "shelf.yaml", text); err != nil {
			t.Errorf("%q, written %q, is not read back: %v", data, text, err)
		}
	})
}

func ExamplePath() {
	path, _ := shelf.Path(func(name string) string {
		return map[string]string{"HOME": "/home/maker"}[name]
	})
	fmt.Println(path)
	// Output: /home/maker/.local/share/mallow/shelf.yaml
}
