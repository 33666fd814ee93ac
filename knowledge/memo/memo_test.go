package memo

import (
	"sync"
	"testing"
)

// TestMemo checks that the last values are always there, that what is asked for
// now and then stays, and that there are never more than two lots.
func TestMemo(t *testing.T) {
	m := New[int, int](10)
	m.Put(-1, 7)
	for i := range 1000 {
		m.Put(i, i*i)
		if v, ok := m.Get(-1); !ok || v != 7 {
			t.Fatalf("after %d values, one that is asked for all the time is gone", i)
		}
		for j := max(0, i-4); j <= i; j++ {
			if v, ok := m.Get(j); !ok || v != j*j {
				t.Fatalf("after %d values, number %d is %d, %v", i, j, v, ok)
			}
		}
		if n := len(m.new) + len(m.old); n > 20 {
			t.Fatalf("%d values are held, 20 at most should be", n)
		}
	}
	if _, ok := m.Get(500); ok {
		t.Error("a value nobody asked for is still there after 500 others")
	}
	m.Put(7, 49)
	if v := m.Of(7, func() int { t.Error("what is remembered is made again"); return 0 }); v != 49 {
		t.Errorf("number 7 is %d", v)
	}
	if v := m.Of(500, func() int { return 3 }); v != 3 {
		t.Errorf("what was made is %d", v)
	}
	if v, ok := m.Get(500); !ok || v != 3 {
		t.Errorf("what was made is remembered as %d, %v", v, ok)
	}
	var none Memo[int, int]
	none.Put(1, 1)
	if _, ok := none.Get(1); ok {
		t.Error("a memo without room remembers")
	}
}

// TestMemoAtOnce has goroutines put and get at once; the race detector looks on.
func TestMemoAtOnce(t *testing.T) {
	m := New[int, int](50)
	var wait sync.WaitGroup
	for g := range 4 {
		wait.Go(func() {
			for i := range 2000 {
				k := (i*7 + g) % 200
				if v, ok := m.Get(k); ok && v != -k {
					t.Errorf("%d is %d", k, v)
				}
				m.Put(k, -k)
			}
		})
	}
	wait.Wait()
}
