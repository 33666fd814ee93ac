package toolbox

import (
	"slices"

	"mallow/assistant/settled"
	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/assistant/whose"
	"mallow/rules/gate"
)

// Read reads a line: what it says of harm, which the gate settles, and all the
// rest.
func (k *Kit) Read(line string, ctx understand.Context) (reading.Reading, []harm.Fact) {
	in, facts := k.Reader().Read(line, ctx).Apart()
	if hands := whose.Hands(k.Catalogue, line); hands != nil && in.Act() != reading.WhatIf {
		in.Takes = append(in.Takes, *hands)
	}
	if in.Act() == reading.WhatIf { // supposed, if it isn't meant: asked
		for i := range facts {
			f := &facts[i]
			f.Doubt = f.Value == harm.Careful(f.Path)
		}
		facts = slices.DeleteFunc(facts, func(f harm.Fact) bool { return !f.Doubt })
	}
	return in, facts
}

// Stated returns what a text says of what may hurt somebody. In doubt it is the
// careful answer.
func (k *Kit) Stated(text string) gate.Stated {
	st := settled.New(k.Ground)
	_, facts := k.Read(text, understand.Context{})
	st.Hear(facts, "")
	st.Settle()
	return st.Stated()
}
