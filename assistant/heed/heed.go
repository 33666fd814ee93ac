// Package heed reads a line in the light of what stands at the prompt, and takes in what
// it says about buying.
//
// It words no question, and looks for no head.
package heed

import (
	"slices"

	"mallow/assistant/page"
	"mallow/assistant/settled"
	"mallow/assistant/short"
	"mallow/assistant/spare"
	"mallow/assistant/tell"
	"mallow/assistant/toolbox"
	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// Line is what was made of a line.
type Line struct {
	In    reading.Reading
	Harms []harm.Fact
	Text  string    // without what it says about buying
	Said  page.Page // to that
}

// Read reads a line. Where nothing is made of it, and again is set, it is read by the
// choices that stand at the prompt, or as so many mallets.
func Read(kit *toolbox.Kit, st *settled.State, at understand.Context, line string, again bool) Line {
	x := Line{Text: line}
	x.In, x.Harms = kit.Read(line, at)
	var said tell.Said
	rest, wish := spare.Cut(line)
	switch {
	case wish == spare.Only:
		x.Text = rest
		said.Once(spared(st, x.In.Parts))
	case wish == spare.Free && settled.Spend(st):
		x.Text = rest
		said.Say("Taken back: only what is on hand.")
	}
	if wish == spare.None && has(x.In) && spare.Alone(line) {
		said.Once(spared(st, x.In.Parts))
	}
	x.Said = said.Page
	if x.Text != line {
		all := x.In
		if x.In, _ = kit.Read(x.Text, at); has(all) && !has(x.In) { // only what I have: two balls, wool
			x.In.Parts = all.Parts
		}
	}
	if !again || !x.In.Empty() || len(x.Harms) > 0 {
		return x
	}
	if q, ok := kit.Catalogue.Question(at.Asked); ok && q.Careful == "" {
		choices := kit.Asker.Choices(st, q)
		if n := short.Nth(x.Text, len(choices)); n > 0 && len(choices) > 2 {
			x.Text = choices[n-1].Say
			x.In, _ = kit.Read(x.Text, at)
		}
	}
	if x.In.Empty() && short.Count(x.Text) && !st.Known[facts.PlayerGrip] {
		at.Asked = facts.PlayerGrip
		x.In, _ = kit.Read(x.Text, at)
	}
	return x
}

// spared takes in that nothing is to be bought, and returns what follows with the parts
// that the line names beside it.
func spared(st *settled.State, parts []reading.Part) string {
	at := st.Clone()
	at.Parts(parts)
	said := settled.Spare(&at)
	settled.Spare(st)
	return said
}

// has reports whether a reading holds a part that is on hand.
func has(in reading.Reading) bool {
	return slices.ContainsFunc(in.Parts, func(p reading.Part) bool { return p.Holding == reading.Have })
}
