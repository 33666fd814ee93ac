package harm

import "cmp"

// finding gathers what the parts of a line say about one fact. The careful
// answer stated anywhere wins, then a doubt, then what the line only touches on,
// then the careless one, then what it mentions in passing.
type finding struct {
	path              string
	careful, careless *Fact
	doubt             *Fact
	faint, passing    *Fact
	touched           bool // doubts that are added now are faint
}

// fact is the answer that tokens from..to give.
func (f *finding) fact(l *line, careful bool, from, to int) *Fact {
	fact := &Fact{Path: f.path, Value: careful == Careful(f.path), Text: l.words(from, to)}
	if len(l.tokens) > 0 {
		fact.From, fact.To = l.tokens[max(from, 0)].from, l.tokens[min(max(to, 0), len(l.tokens)-1)].to
	}
	return fact
}

// add adds what tokens from..to say. A doubt holds the careful answer meanwhile.
func (f *finding) add(l *line, careful, doubt bool, from, to int) {
	if doubt && f.touched {
		f.touch(l, from, to, false)
		return
	}
	switch fact := f.fact(l, careful || doubt, from, to); {
	case doubt:
		fact.Doubt = true
		f.doubt = cmp.Or(f.doubt, fact)
	case careful:
		f.careful = cmp.Or(f.careful, fact)
	default:
		f.careless = cmp.Or(f.careless, fact)
	}
}

// touch adds a doubt of what the line only touches on at tokens from..to, or
// mentions in passing.
func (f *finding) touch(l *line, from, to int, passing bool) {
	fact := f.fact(l, true, from, to)
	fact.Doubt, fact.Faint = true, true
	if passing {
		f.passing = fact
	} else {
		f.faint = cmp.Or(f.faint, fact)
	}
}

// split reports whether the line says the careful answer and in a later clause the other.
func (f *finding) split() bool {
	return f.careful != nil && f.careless != nil && f.careless.From > f.careful.To && f.careless.Text != f.careful.Text
}

func (f *finding) result() *Fact {
	return cmp.Or(f.careful, f.doubt, f.faint, f.careless, f.passing)
}
