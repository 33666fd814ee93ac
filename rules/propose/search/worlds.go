package search

import "mallow/knowledge/head"

// mixed reports whether a stack mixes the worlds of sizes.
func (s *Search) mixed(st head.Stack) bool {
	if !s.Worlds {
		return false
	}
	for i := range st.Slices {
		tube := st.Slices[i].Tube.ID
		if s.f.Mixes(s.q, st.Core.ID, tube) || i > 0 && s.f.Mixes(s.q, st.Slices[i-1].Tube.ID, tube) {
			return true
		}
	}
	return false
}

// mixes reports whether a tubing over a node would mix the worlds in one head.
func (s *Search) mixes(n *node, tube string) bool {
	for _, c := range n.root.Cores {
		if s.f.Mixes(s.q, c.Core.ID, tube) {
			return true
		}
	}
	for at := n; at.up != nil; at = at.up {
		if s.f.Mixes(s.q, s.Tubes[at.tube].Slice.Tube.ID, tube) {
			return true
		}
	}
	return false
}
