package settled

import (
	"maps"
	"slices"

	"mallow/assistant/understand/harm"
	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
)

// Stated returns what was said of what may hurt.
func (st *State) Stated() gate.Stated { return gate.Of(st.Facts, st.Known) }

// Pass returns the pass for what was said.
func (st *State) Pass() gate.Pass { return gate.Settle(st.Stated()) }

// usual returns the defaults of the questions that the gate settles: what most
// people answer.
func usual(cat *knowledge.Catalogue, f facts.Facts) gate.Stated {
	known := rules.Known{}
	for _, q := range cat.Questions {
		known[q.ID] = q.Default != ""
	}
	return gate.Of(f, known)
}

// Heard is what a line of harm did to what was settled.
type Heard struct {
	Noted []string    // what is now settled, as it reads
	Open  []string    // paths that are to be asked
	Back  []harm.Fact // careful answers that the line would undo: asked once before they are
}

// Did reports whether the line said anything of harm.
func (h Heard) Did() bool { return len(h.Noted)+len(h.Open)+len(h.Back) > 0 }

// Hear takes in what a line says of harm. The careful answer always counts, and
// stays: nothing that a line says undoes it before that was asked and affirmed.
// Asked is the path of the open question; in doubt it gets the careful answer.
func (st *State) Hear(list []harm.Fact, asked string) Heard {
	var h Heard
	for _, f := range list {
		careful := harm.Careful(f.Path)
		was, _ := facts.Get(&st.Facts, f.Path).(bool)
		held := st.Known[f.Path] && was == careful
		switch {
		case f.Faint && f.Path != asked && (st.touched[f.Path] || f.Path == harm.Minor && st.Known[f.Path]):
			// What was said plainly, or asked once, isn't asked again for a word in passing.
		case f.Value == careful && f.Doubt && f.Path != asked && (f.Path != gate.RubberOK || f.Faint):
			if f.Faint {
				st.touched = with(st.touched, f.Path)
			}
			if !held {
				st.Reopen(f.Path)
				h.Open = append(h.Open, f.Path)
			}
		case f.Value == careful:
			h.Noted = append(h.Noted, st.settle(f.Path, careful))
			st.held = with(st.held, f.Path)
		case held && (st.held[f.Path] || f.TakesBack):
			h.Back = append(h.Back, f)
		case f.TakesBack: // there is nothing to take back: the question stays open
			if !st.Known[f.Path] {
				h.Open = append(h.Open, f.Path)
			}
		default:
			h.Noted = append(h.Noted, st.settle(f.Path, f.Value))
		}
	}
	return h
}

// TakeBack undoes a careful answer, once that was asked and affirmed.
func (st *State) TakeBack(f harm.Fact) string {
	st.held = maps.Clone(st.held)
	delete(st.held, f.Path)
	return st.settle(f.Path, f.Value)
}

// Keep carries over the careful answers that o holds to: going back, or
// starting anew, takes none of them back. It returns how they read.
func (st *State) Keep(o State) []string {
	var list []string
	for _, path := range gate.Paths() {
		if !o.held[path] {
			continue
		}
		if v, _ := facts.Get(&st.Facts, path).(bool); !st.Known[path] || v != harm.Careful(path) {
			list = append(list, st.settle(path, harm.Careful(path)))
		}
		st.held = with(st.held, path)
	}
	st.Settle()
	return list
}

// Holds reports whether a careful answer was stated and stays until it is
// taken back.
func (st *State) Holds(path string) bool { return st.held[path] }

// with returns a set with path in it, and leaves the one it is given as it was.
func with(set map[string]bool, path string) map[string]bool {
	set = maps.Clone(set)
	if set == nil {
		set = map[string]bool{}
	}
	set[path] = true
	return set
}

// settle puts the answer to a fact of harm, and returns how it reads.
func (st *State) settle(path string, v bool) string {
	if facts.Get(&st.Facts, path) != v && slices.Contains([]string{gate.LatexOK, gate.RubberOK}, path) {
		st.Stack = "" // a head picked by hand may be out, or better ones in
	}
	_ = facts.Set(&st.Facts, path, v) // a path of the gate's
	says := st.Say(path)
	st.Note(path, says)
	return says
}
