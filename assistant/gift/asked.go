package gift

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/audio"
	"mallow/assistant/compare"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/short"
	"mallow/assistant/toolbox"
	"mallow/knowledge"
	"mallow/knowledge/head"
)

// Asked is what is on offer where a file is asked for.
type Asked struct {
	Kit   *toolbox.Kit
	State *settled.State
	Pair  [2]string // the heads of the last what-if, as it is and as supposed
}

// Offered are the heads that a line speaks of: the choices that it names, both
// or them, or all on offer.
func (a Asked) Offered(line string) []compare.Entry {
	var list []compare.Entry
	said := strings.Fields(answer.Plain(line))
	numbers := map[string]int{"1": 1, "first": 1, "2": 2, "second": 2, "3": 3, "third": 3}
	var picked []int
	for _, w := range said {
		if n := numbers[w]; n > 0 && !slices.Contains(picked, n) {
			picked = append(picked, n)
		}
	}
	if len(picked) == 0 && (slices.Contains(said, "both") || slices.Contains(said, "comparison") || slices.Contains(said, "them")) {
		if first, second, ok := a.Wondered(true); ok {
			return []compare.Entry{{Name: "As it is", Stack: first}, {Name: "What if", Stack: second}}
		}
	}
	if len(picked) == 0 {
		picked = []int{1, 2, 3}
		switch {
		case slices.Contains(said, "both"):
			picked = []int{1, 2}
		case slices.Contains(said, "it"), slices.Contains(said, "this"):
			picked = []int{1}
		}
	}
	for _, n := range picked {
		c, ok := a.Kit.Offers.Choice(a.State, n)
		if ok && !slices.ContainsFunc(list, func(e compare.Entry) bool { return e.Stack.String() == c.Stack.String() }) {
			list = append(list, compare.Entry{Name: fmt.Sprintf("Choice %d", n), Stack: c.Stack})
		}
	}
	return list
}

// Wondered are the heads of the last what-if, as it is and as supposed; false where none
// was, or another head than it was asked of is on offer by now.
func (a Asked) Wondered(offered bool) (first, second head.Stack, ok bool) {
	if first, second, ok = a.pair(); !ok || !offered {
		return first, second, ok
	}
	now, err := a.Kit.Offers.Best(a.State)
	return first, second, err == nil && now.Stack.String() == a.Pair[0]
}

// pair reads the heads of the last what-if, whatever is on offer.
func (a Asked) pair() (first, second head.Stack, ok bool) {
	if a.Pair == [2]string{} {
		return first, second, false
	}
	first, err := head.Parse(a.Kit.Catalogue, a.Pair[0])
	if err != nil {
		return first, second, false
	}
	second, err = head.Parse(a.Kit.Catalogue, a.Pair[1])
	return first, second, err == nil
}

// Sided tells which of the heads of the last what-if a line names, 1 or 2, and 0 where it
// names none. Which head is on offer is looked for only where it names one.
func (a Asked) Sided(line string, offered bool, name func(head.Stack) string) (side int, first, second head.Stack) {
	first, second, ok := a.pair()
	if !ok {
		return 0, first, second
	}
	if side = short.Side(line, name(first), name(second)); side > 0 {
		if _, _, ok := a.Wondered(offered); !ok {
			side = 0
		}
	}
	return side, first, second
}

// Sound makes a sketch of the heads that a line speaks of.
func (a Asked) Sound(line string) (audio.Sketch, error) {
	entries := a.Offered(line)
	if len(strings.Fields(line)) < 2 && len(entries) > 1 { // play
		entries = entries[:1]
	}
	var voices []audio.Voice
	for _, e := range entries {
		voices = append(voices, audio.Voice{Name: strings.ToLower(e.Name), Head: head.New(e.Stack, a.Kit.Catalogue.Limits)})
	}
	return audio.Play(voices, audio.Score{Instrument: a.Instrument(), Dynamics: a.Kit.Catalogue.Dynamics, Alternate: len(voices) > 1})
}

// Instrument is the one that was named, else the first of its kind.
func (a Asked) Instrument() knowledge.Instrument {
	cat := a.Kit.Catalogue
	if inst, ok := cat.Instrument(a.State.Instrument); ok {
		return inst
	}
	for _, inst := range cat.Instruments {
		if inst.Kind == a.State.Facts.Instrument.Kind {
			return inst
		}
	}
	inst, _ := cat.Instrument(reply.DefaultInstrument)
	return inst
}
