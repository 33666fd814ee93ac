package clause

import (
	"slices"

	"mallow/assistant/understand/reading"
)

// bareAsks settles a clause that asks though no verb stands before its subject,
// from item i on: must I own a drill; it matter if they are thin; a bike tube any
// use; that normal.
func (c cutter) bareAsks(x *Clause, i int, end string) bool {
	x.TopicAt = i
	switch {
	case end == "?" && x.To-i <= 4 && c.Says(i, "something", "anything", "summat") && c.Item(x.To-1).Has("move") != nil && c.Open == "": // something cheaper?
		x.Act, x.request = reading.Tell, true
		return true
	case c.Is(i, "must") && c.Subject(i+1), c.Is(i, "it") && c.Is(i+1, "matter", "matters"):
		x.Act = reading.Ask
		return true
	case c.Is(i, "meaning") && x.To-i == 1 && c.Open == "" && i > 0:
		x.Act = reading.Define
		return true
	case c.orIsIt(x):
		x.Act = reading.Ask
		return true
	case c.verdict(i, x) && (!x.First || end == "?") && c.Open == "":
		x.Act = reading.Ask
		return true
	case c.Says(i, "anything", "something", "anyone", "anywhere") && (joiner{c}).orElse(i, x):
		x.Act = reading.Ask
		return true
	}
	for j := i; j+1 < x.To; j++ {
		switch {
		case !c.Says(j, "any") || j > i && c.Item(j-1).Any("holding", "not"):
		case c.HasWord(j, j+2, "reason", "reasons") && c.HasWord(j+1, x.To, "not", "shouldnt", "cant", "couldnt", "wouldnt", "against", "why"):
			x.Act, x.TopicAt = reading.WhyNot, j+1
			return true
		case c.HasWord(j, j+2, "use", "good", "point", "sense", "harm", "reason") && c.HasWord(j+1, x.To, "instead", "in", "for", "to", "at", "with", "if"):
			x.Act = reading.Ask
			return true
		}
	}
	return false
}

// verdict reports whether the clause from item i on only asks whether what was
// said is so: that normal.
func (c cutter) verdict(i int, x *Clause) bool {
	if !c.Starts(i, "that", "this", "it", "those", "these") {
		return false
	}
	w := c.words(i, x.To)
	if len(w) < 2 || len(w) > 4 {
		return false
	}
	switch w[len(w)-1] {
	case "normal", "usual", "enough", "sensible", "reasonable", "plausible", "realistic", "typical":
		return w[1] != "is" && w[1] != "was" && w[1] != "seems"
	}
	return false
}

// orIsIt reports whether a clause doubts what was said before it: or is that silly;
// or has it got to be a finer one.
func (c cutter) orIsIt(x *Clause) bool {
	if !c.Starts(x.From, "or") {
		return false
	}
	w := c.words(x.From, x.To)
	return len(w) > 3 && slices.Contains([]string{"is", "has", "does", "would", "will"}, w[1]) && slices.Contains([]string{"it", "that", "this"}, w[2])
}

// words are the words of the items from..to.
func (c cutter) words(from, to int) []string {
	var list []string
	for t := c.Item(from).From; to > from && t < c.Item(to-1).To; t++ {
		list = append(list, c.At(t).Text)
	}
	return list
}

// orElse reports whether the clause from item i on asks for something else: anything
// else I could use.
func (c joiner) orElse(i int, x *Clause) bool {
	for j := i + 1; j+1 < min(x.To, i+5); j++ {
		if c.Subject(j) && c.Is(j+1, "could", "can", "should", "might", "must", "need") {
			return true
		}
	}
	return false
}

// runsOn reports whether item i begins a question that nobody put a mark before:
// I got balls like these can we use those.
func (c joiner) runsOn(i, from int) bool {
	if i-from < 2 {
		return false
	}
	verb, subject := c.Word(i), c.At(c.Item(i).From+1).Text
	switch { // what few items are is asked before what stands about them
	case c.Is(from, "if") && slices.Contains([]string{"is", "would", "will"}, verb) && slices.Contains([]string{"that", "it", "they", "this"}, subject): // if I wanted them heavier is that a thing
	case slices.Contains([]string{"can", "could", "should", "do", "does", "would", "will"}, verb) && slices.Contains([]string{"i", "we", "you", "it", "they", "these", "those"}, subject) && c.Item(i+2).Mark == "" && i+2 < len(c.Items):
	case c.Is(i, "which", "what", "how") && c.Is(from, "between", "of", "for", "with", "out", "given") && c.Is(i+1, "would", "do", "should", "can", "could") && c.Subject(i+2):
	default:
		return false
	}
	return !c.Subject(i-1) && !c.questionWord(i-1) && !c.questionWord(from) && !c.Item(i-1).Any("join", "not", "lead") && !c.Is(i-1, "so", "as", "nor", "neither", "than", "only", "never", "that")
}

// hindsight makes questions of what only goes with the question beside it: why such
// a small core? I'd have gone bigger.
func (c joiner) hindsight(all []Clause) {
	for k := 1; k < len(all); k++ {
		x, before := &all[k], all[k-1].Act
		if before == reading.Tell && IsQuestion(x.Act) {
			named := c.words(all[k-1].From, all[k-1].To)
			switch {
			case x.Act == reading.Define && c.Is(x.To-1, "meaning") && x.To-x.From == 1 && len(named) < 3:
				all[k-1].Act = reading.Define // articulate. meaning?
			case c.orIsIt(x) && len(named) > 2 && slices.Contains([]string{"enough", "ok", "okay", "fine", "alright", "normal"}, named[len(named)-1]):
				all[k-1].Act = reading.Ask // kitchen scale good enough or has it got to be a finer one
			}
		}
		if x.Act != reading.Tell || before != reading.Why && before != reading.WhyNot {
			continue
		}
		w := c.words(x.From, x.To)
		for j := range w {
			if (w[j] == "have" || w[j] == "of") && j > 0 && (w[j-1] == "id" || w[j-1] == "would" || w[j-1] == "wed") && j+1 < len(w) {
				switch w[j+1] {
				case "gone", "picked", "chosen", "taken", "used", "put", "made", "guessed", "thought", "expected", "said", "tried":
					x.Act = before
				}
			}
		}
	}
}

// definable reports whether the rest of the clause, from item i+1, is a word to
// be explained rather than a question about something.
func (c cutter) definable(x *Clause, i int) bool {
	n := 0
	for j := i + 1; j < x.To; j++ {
		switch it := c.Item(j); {
		case it.Any("about") || it.Has("topic") != nil && c.Is(j, "cost", "price", "weight"):
			return false
		case !c.Filler(j):
			n++
		}
	}
	return n > 0 && n <= 6
}

// noSubject reports whether the clause that begins with is or are at item i only
// leaves out its subject, as people do who think in another language: is total,
// is not for one pair.
func (c cutter) noSubject(x *Clause, i int) bool {
	if c.Starts(i, "was", "were", "is", "are") && !x.First && (c.Starts(i, "was", "were") || c.Item(i+1).Fact() != nil || c.Item(i+1).Qty != nil || c.OfPart(i+1)) {
		return true // I said wrong, is vibraphone
	}
	return c.Is(i, "is", "are", "was") && (c.Is(i+1, "not", "for", "from", "real", "only", "very", "too", "in", "on", "at", "my") || c.Item(i+1).Any("share", "count"))
}

// namesOnly reports whether a clause only names a part or a tool.
func (c cutter) namesOnly(x *Clause) bool {
	found := false
	for i := x.From; i < x.To; i++ {
		it := c.Item(i)
		switch {
		case it.Any("kind", "material", "bench.drill", "bench.scale", "bench.caliper"):
			found = true
		case !c.Filler(i) || c.questionWord(i):
			return false
		}
	}
	return found
}
