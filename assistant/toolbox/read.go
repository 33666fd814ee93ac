package toolbox

import (
	"slices"

	"mallow/assistant/serve"
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
	k.serve(&in, line, ctx)
	if slices.Contains(in.Acts, reading.Tell) && in.Act() != reading.WhatIf {
		if hands := whose.Hands(k.Catalogue, line); hands != nil {
			in.Takes = append(in.Takes, *hands)
		}
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

// serve takes what a line wishes that asks whether, or which of, the parts on hand will do:
// what nothing else in it says, and of several balls one of these.
func (k *Kit) serve(in *reading.Reading, line string, ctx understand.Context) {
	var balls []reading.Part
	has := false
	for _, p := range in.Parts {
		if has = has || p.Holding == reading.Have; p.Holding == reading.Have && p.Kind == "core" {
			p.Holding = reading.Named
			balls = append(balls, p)
		}
	}
	if !has {
		return
	}
	if len(balls) > 1 && serve.Which(line) {
		in.Parts = append(in.Parts, balls...)
	}
	wish := serve.Will(line)
	if wish == "" {
		return
	}
	ctx.Asked = ""
	more, _ := k.Reader().Read(wish, ctx).Apart()
	for _, t := range more.Takes {
		if !slices.ContainsFunc(in.Takes, func(u reading.Take) bool { return u.Path == t.Path }) {
			in.Takes = append(in.Takes, t)
		}
	}
}

// held returns what a text says of harm where nobody can be asked back: what is in doubt
// has the careful answer.
func held(list []harm.Fact) []harm.Fact {
	list = slices.Clone(list)
	for i, f := range list {
		list[i].Doubt = f.Doubt && (f.Faint || f.Value != harm.Careful(f.Path))
	}
	return list
}

// Stated returns what a text says of what may hurt somebody. In doubt it is the
// careful answer.
func (k *Kit) Stated(text string) gate.Stated {
	st := settled.New(k.Ground)
	_, facts := k.Read(text, understand.Context{Note: true})
	st.Hear(held(facts), "")
	st.Settle()
	return st.Stated()
}
