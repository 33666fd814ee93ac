package harm

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

func (f *finding) add(l *line, careful, doubt bool, from, to int) {
	fact := &Fact{Path: f.path, Value: careful == Careful(f.path), Doubt: doubt, Text: l.words(from, to)}
	if len(l.tokens) > 0 {
		fact.From, fact.To = l.tokens[max(from, 0)].from, l.tokens[min(max(to, 0), len(l.tokens)-1)].to
	}
	switch {
	case doubt:
		fact.Value = Careful(f.path)
		if fact.Faint = f.touched; fact.Faint && f.faint == nil {
			f.faint = fact
		} else if !fact.Faint && f.doubt == nil {
			f.doubt = fact
		}
	case careful:
		if f.careful == nil {
			f.careful = fact
		}
	case f.careless == nil:
		f.careless = fact
	}
}

func (f *finding) result() *Fact {
	switch {
	case f.careful != nil:
		return f.careful
	case f.doubt != nil:
		return f.doubt
	case f.faint != nil:
		return f.faint
	case f.careless != nil:
		return f.careless
	}
	return f.passing
}

// touch adds a doubt of what the line only touches on at tokens from..to, or
// mentions in passing.
func (f *finding) touch(l *line, from, to int, passing bool) {
	was := f.faint
	f.touched = true
	if passing {
		f.faint = nil
	}
	f.add(l, true, true, from, to)
	if f.touched = false; passing {
		f.passing, f.faint = f.faint, was
	}
}
