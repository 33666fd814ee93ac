// Package memo remembers what was worked out last, by the values it was worked
// out of. It knows how much to hold on to; it never works anything out.
package memo

import "sync"

// Memo holds what was put into it last. The zero Memo remembers nothing. It may be
// used by several goroutines at once.
//
// It keeps two lots: once the new lot is full it becomes the old one, and what
// the old one held is forgotten, but for what was asked for meanwhile.
type Memo[K comparable, V any] struct {
	most int // in a lot

	mu       sync.Mutex
	new, old map[K]V
}

// New returns a memo of at most 2·most values, of which the last most that were
// put in or asked for are always there.
func New[K comparable, V any](most int) *Memo[K, V] { return &Memo[K, V]{most: most} }

// Get returns what was remembered under a key.
func (m *Memo[K, V]) Get(k K) (V, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	v, ok := m.new[k]
	if ok {
		return v, true
	}
	if v, ok = m.old[k]; ok {
		m.put(k, v)
	}
	return v, ok
}

// Of returns what was remembered under a key, or else what make makes, which it
// remembers.
func (m *Memo[K, V]) Of(k K, make func() V) V {
	v, ok := m.Get(k)
	if !ok {
		v = make()
		m.Put(k, v)
	}
	return v
}

// Put remembers a value under a key.
func (m *Memo[K, V]) Put(k K, v V) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.put(k, v)
}

func (m *Memo[K, V]) put(k K, v V) {
	if m.most <= 0 {
		return
	}
	if m.new == nil || len(m.new) >= m.most {
		m.old, m.new = m.new, map[K]V{}
	}
	m.new[k] = v
}
