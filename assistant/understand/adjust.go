package understand

import (
	"math"

	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/tune"
)

// takeAdjust takes orders to move something that name no figure, or one that says
// nothing: reduce the diameter, bring the size up. Package shift knows the rest.
func (s mover) takeAdjust(i int) int {
	way := tune.Way(s.Chart, s.clause.From, i)
	if way == 0 {
		return 0
	}
	if way < 0 && s.Starts(i, "take", "bring") && s.HasWord(i, min(i+5, s.clause.To), "up") { // bring the size up
		way = 1
	}
	path, end := "", i+1
	for j := i + 1; j < s.clause.To && j < i+8; j++ {
		it := s.Item(j)
		switch {
		case it.Has("topic") != nil && it.Has("topic").Topic[0].Kind == "fact" && path == "":
			path, end = it.Has("topic").Topic[0].ID, j+1
		case s.Starts(j, "off") && path != "":
			end = j + 1
		case s.Starts(j, "to", "at"), s.OfPart(j), it.Has("holding") != nil, it.Has("keep") != nil, it.Has("same") != nil:
			j = s.clause.To
		}
	}
	if path != "want.mass_g" && path != "want.diameter_mm" && path != "want.softness" && path != "want.budget" {
		return 0
	}
	m := reading.Move{Path: path, By: way, Text: s.Said(i, end)}
	if path == "want.softness" {
		m.By, m.Unit = 2*way, "notches"
		if s.HasWord(i, end, "hardness") {
			m.By = -m.By
		}
		at := end
		for s.Filler(at) {
			at++ // reduce the hardness by two notches
		}
		if q := s.Item(at).Qty; q != nil && q.Dim == quantity.Notches {
			m.By, end = math.Copysign(q.Value, m.By), at+1
		}
	}
	s.Out.Moves = append(s.Out.Moves, m)
	s.content, s.changed, s.bound = true, true, ""
	return end - i
}

// takeTuned takes an order to have more or less of a quality: roll some treble off.
func (s mover) takeTuned(i int) int {
	if s.neg || s.hold == reading.Avoid || s.hold == reading.Have || s.Ctx.Asked != "" {
		return 0
	}
	if !tune.Orders(s.Chart, s.clause.From, i) && !s.Starts(i, "more", "less", "fewer", "extra") && !(s.Starts(i, "too") && s.At(s.Item(i).From+1).Is("much")) {
		return 0
	}
	o := tune.At(s.Chart, i, s.clause.To)
	if o.Path == "" {
		return 0
	}
	unit := ""
	if o.Path == "want.softness" {
		unit, o.By = "notches", 2*o.By
	}
	s.move(i, o.Path, o.By, unit)
	s.changed, s.bound, s.hold = true, "", reading.Named
	return o.End - i
}
