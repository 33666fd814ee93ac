package offer

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/reading"
	"mallow/rules/change"
	"mallow/rules/facts"
)

// aiming is the way of a change, by the fact of a relative wish: where there is to
// be less of it, and where more.
type aiming struct{ fact, less, more string }

func aimings() []aiming {
	return []aiming{
		{facts.WantSoftness, "harder", "softer"},
		{facts.WantMassG, "lighter", "heavier"},
		{facts.WantDiameterMM, "smaller", "larger"},
		{facts.WantColour, "darker", "brighter"},
		{facts.WantAttack, "clearer", "more blended"},
		{facts.WantOpening, "steadier", "more open when loud"},
		{facts.WantBudgetCents, "cheaper", ""},
		{"want.budget", "cheaper", ""},
		{facts.HeadLayers, "with fewer slices", "with more slices"},
		{facts.HeadRubberMM, "with thinner slices", "with thicker slices"},
		{facts.HeadCoreMM, "with a smaller ball", "with a larger ball"},
		{facts.HeadCoreA, "with a softer ball", "with a harder ball"},
		{facts.HeadTurns, "quicker to wind", "fuller wound"},
	}
}

// plainBy is by how much a wish moves a fact that nobody put a word of degree to.
func plainBy(m reading.Move) float64 {
	if m.Path == facts.WantSoftness && m.Unit != "" {
		return 2
	}
	return 1
}

// Aims turns relative wishes, such as "two notches softer", into what a change of a
// head is to reach all at once, with all that is to stay. Rest are those that no change
// aims at.
func Aims(moves []reading.Move, keeping change.Aim) (aim change.Aim, rest []reading.Move) {
	aim = keeping
	for _, m := range moves {
		list := aimings()
		i := slices.IndexFunc(list, func(a aiming) bool { return a.fact == m.Path })
		var to change.Move
		if i >= 0 {
			to.Way = map[bool]string{true: list[i].less, false: list[i].more}[m.By < 0]
		}
		if to.Way == "" {
			rest = append(rest, m)
			continue
		}
		switch {
		case m.Unit == reading.InAll:
			to = change.Move{Way: change.Wound, By: m.By}
		case m.Unit == reading.Share:
			to.Share = math.Abs(m.By)
		case figured(m), m.Path == facts.HeadLayers:
			to.By = math.Abs(m.By)
		default:
			to.Times = math.Abs(m.By) / plainBy(m)
		}
		aim.Moves = with(aim.Moves, to)
	}
	aim.Moves = together(aim.Moves)
	return aim, rest
}

// with adds a move to others. Of two the same way the further counts.
func with(moves []change.Move, m change.Move) []change.Move {
	i := slices.IndexFunc(moves, func(o change.Move) bool { return o.Way == m.Way })
	if i < 0 {
		return append(moves, m)
	}
	if o := &moves[i]; cmp.Or(cmp.Compare(m.By, o.By), cmp.Compare(m.Times, o.Times)) > 0 {
		*o = m
	}
	return moves
}

// together leaves out of several moves what comes with another: who wants a head
// harder and brighter, or softer and darker, wants one change.
func together(moves []change.Move) []change.Move {
	with := map[string][]string{"harder": {"brighter", "clearer"}, "softer": {"darker", "more blended"}}
	var comes []string
	for _, m := range moves {
		comes = append(comes, with[m.Way]...)
	}
	return slices.DeleteFunc(moves, func(m change.Move) bool { return slices.Contains(comes, m.Way) })
}

// figured reports whether a wish says by how much: softness has a unit without, too.
func figured(m reading.Move) bool {
	return m.Unit != "" && (m.Path != facts.WantSoftness || counted(m.Text))
}

// counted reports whether a wish has a number in it, in figures or as a word.
func counted(text string) bool {
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if strings.ContainsAny(w, "0123456789½") || slices.Contains(strings.Fields("a one two three four five six seven eight nine ten half"), w) {
			return true
		}
	}
	return false
}
