package understand

import (
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/tune"
)

// takeAdjust takes orders to move something that name no figure, or one that says
// nothing: reduce the diameter, bring the size up. Package shift knows the rest.
func (s mover) takeAdjust(i int) int {
	path, by, unit, end := tune.Adjust(s.Chart, s.clause.From, i, s.clause.To)
	if path == "" {
		return 0
	}
	s.Out.Moves = append(s.Out.Moves, reading.Move{Path: path, By: by, Unit: unit, Text: s.Said(i, end)})
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
