package hunch

import (
	"slices"
	"strings"
)

// says is what a label says of a line.
type says struct {
	kind  string // Take, Move, Keep or Withdraw; empty where the label is of something else
	path  string // of a fact, or a kind of part
	value any    // string, bool or float64; nil where it names none
	bound string // most or least where the value is a limit
	by    float64
	of    int // which of the guesses it counts for
}

// What a label can say of a fact beside an answer to it.
const (
	Keep     = "keep"
	Withdraw = "withdraw"
)

// read reads what the labels say. Value reads a word as the value of a fact; a label with a
// word that is none says nothing.
func (n *Net) read(value func(path, word string) (any, error)) {
	n.says = make([]says, len(n.Labels))
	for i, label := range n.Labels {
		if of, path, ok := strings.Cut(label, ":"); ok {
			n.says[i] = says{kind: of, path: path}
			continue
		}
		at := strings.IndexAny(label, "=<>+-!")
		if at < 0 {
			at = len(label)
		}
		s := says{kind: Take, path: label[:at]}
		if group, _, ok := strings.Cut(s.path, "."); !ok || group == "part" {
			continue
		}
		switch how := label[at:]; how {
		case "!":
			continue
		case "+":
			s.kind, s.by = Move, 1
		case "-":
			s.kind, s.by = Move, -1
		case "":
		default:
			if strings.HasPrefix(how, "<") {
				s.bound = "most"
			} else if strings.HasPrefix(how, ">") {
				s.bound = "least"
			}
			v, err := value(s.path, strings.TrimLeft(how, "=<>"))
			if err != nil { // a word that the catalogue doesn't have
				continue
			}
			s.value = v
		}
		n.says[i] = s
	}
	of := map[string]int{} // answers to a fact and moves of it are one, what keeps it or takes it back others
	for i := range n.says {
		s := &n.says[i]
		key := s.path
		switch s.kind {
		case "":
			continue
		case Keep, Withdraw:
			key = s.kind + key
		}
		k, ok := of[key]
		if !ok {
			k = len(n.guesses)
			of[key], n.guesses = k, append(n.guesses, Guess{Of: s.kind, Path: s.path})
		}
		s.of = k
	}
}

// Guess is what a line likely says of a fact.
type Guess struct {
	Of     string // Take, Move, Keep or Withdraw
	Path   string
	Value  any     // string, bool or float64; nil where none is likely
	Bound  string  // most or least where the value is a limit
	By     float64 // 1 or -1 where there is to be more or less of it
	Likely float64 // that it says so: a share of 1
	Speaks float64 // that it speaks of the fact at all
}

// Guesses returns what a line likely says of each fact, and what it keeps or takes back, less
// likely where something else of the fact is likely too; none where there is no opinion.
func (o Opinion) Guesses() []Guess {
	if o.net == nil {
		return nil
	}
	out := slices.Clone(o.net.guesses)
	next := make([]float64, len(out)) // the next likeliest of each
	for i, s := range o.net.says {
		if s.kind == "" {
			continue
		}
		g, p := &out[s.of], float64(o.free[i])
		if s.path == o.whole.asked {
			p = float64(o.likely[i])
		}
		switch {
		case s.kind == Take && s.value == nil:
			g.Speaks = p
		case p > g.Likely:
			next[s.of] = g.Likely
			*g = Guess{s.kind, s.path, s.value, s.bound, s.by, p, g.Speaks}
		default:
			next[s.of] = max(next[s.of], p)
		}
	}
	for k := range out {
		out[k].Likely *= 1 - next[k]
	}
	return out
}
