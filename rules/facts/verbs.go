package facts

import (
	"fmt"
	"math"
	"strconv"

	"mallow/knowledge/measure"
	"mallow/rules"
)

// Verbs are the ways to print a number in the texts of rules, steps and
// questions. The number is in the unit of its fact:
//
//	in     mm to inches and millimetres, 1 1/8 in (28.6 mm)
//	rule   mm as a rule shows them, 1 1/8 in (29 mm)
//	mm     mm to one decimal, 28.6 mm
//	g, oz  grams, 41.2 g, 1.45 oz
//	money  hundredths of the currency, 3.25
//	pct    a share to per cent, 83 %
//	n0     a whole number
//	n0?    the same, nothing for 0; so with every form
//	hz     Hz, 131 Hz
//	note   Hz to the nearest note, C3
//	x      a ratio, 1.50
func Verbs() rules.Verbs {
	return rules.Verbs{
		"in":    func(mm float64) string { return (measure.Length(mm) * measure.Millimetre).String() },
		"rule":  func(mm float64) string { return (measure.Length(mm) * measure.Millimetre).Rule() },
		"mm":    func(mm float64) string { return (measure.Length(mm) * measure.Millimetre).Mm() },
		"g":     func(g float64) string { return fmt.Sprintf("%.1f g", g) },
		"oz":    func(g float64) string { return fmt.Sprintf("%.2f oz", g*float64(measure.Gram/measure.Ounce)) },
		"money": func(cents float64) string { return measure.Money(math.Round(cents)).String() },
		"pct":   func(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) },
		"n0":    func(x float64) string { return strconv.FormatFloat(math.Round(x)+0, 'f', 0, 64) },
		"hz":    func(hz float64) string { return fmt.Sprintf("%.0f Hz", hz) },
		"note":  note,
		"x":     func(ratio float64) string { return fmt.Sprintf("%.2f", ratio) },
	}
}

func note(hz float64) string {
	if hz <= 0 {
		return "?"
	}
	return measure.NoteNear(hz).String()
}
