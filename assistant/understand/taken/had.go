package taken

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
)

// Had lets the part that was named last, in a question or not, be had, and reports
// whether there was one: would floss do? I have that.
func Had(l *Line) bool {
	if n := len(l.Out.Supposed.Parts); n > 0 && l.Out.Supposed.Parts[n-1].Holding == reading.Named {
		p := l.Out.Supposed.Parts[n-1]
		l.Out.Supposed.Parts, p.Holding = l.Out.Supposed.Parts[:n-1], reading.Have
		l.Out.Parts = append(l.Out.Parts, p)
		return true
	}
	if n := len(l.Out.Parts); n > 0 && l.Out.Parts[n-1].Holding == reading.Named {
		l.Out.Parts[n-1].Holding = reading.Have
		return true
	}
	return false
}

// heaps are words for how much of a thing there is where people name what it lies in, or the rest of
// it.
var heaps = []string{"bag", "bags", "box", "boxes", "jar", "jars", "tin", "tins", "can", "pot", "tub", "handful", "handfuls", "bunch", "pile", "heap", "sack", "packet", "packets", "pack", "case",
	"shoebox", "basket", "bundle", "coil", "offcut", "offcuts", "scrap", "scraps", "oddments", "leftover", "leftovers", "remnants", "remnant", "bits", "lump", "carton", "bottle", "bowl", "bucket",
	"drawer", "stash", "lots", "left", "remaining"}

// unsettled are words of lines that don't tell what there is.
var unsettled = []string{"need", "needs", "want", "wants", "would", "id", "could", "should", "might", "shall", "use", "using", "try", "buy", "order", "prefer", "better", "best", "make", "making",
	"build", "give", "put", "swap", "instead", "if", "recommend", "suggest", "please", "pls", "go", "goes", "get", "lets", "wound", "wrapped", "head", "heads", "with", "wish", "ill",
	"layer", "layers", "under", "over", "around", "mallet", "mallets", "was", "were", "had", "used", "costs", "cost", "price", "not", "dont", "but", "than"}

// Described lets parts be on hand that a line describes and says nothing else of: by
// where it lies, as mine, or by three of its sizes, as only who holds it knows them. A
// handful of cork balls; my hose is silicone, bore 20; siphon hose, inner 8, outer 11.
func Described(l *Line, all []clause.Clause) {
	out := &l.Out
	told := func(x clause.Clause) bool { return x.Act == reading.Tell }
	wish := func(t reading.Take) bool {
		return strings.HasPrefix(t.Path, "want.") || strings.HasPrefix(t.Path, "instrument.")
	}
	if len(all) == 0 || !slices.ContainsFunc(all, told) || slices.ContainsFunc(all, func(x clause.Clause) bool { return !told(x) }) || out.Corrects || l.Ctx.Asked != "" && l.Ctx.Asked != "parts" ||
		len(out.Moves)+len(out.Keeps)+len(out.Withdraws)+len(out.Harm) > 0 || slices.ContainsFunc(out.Takes, wish) {
		return
	}
	recount(l)
	if l.HasWord(0, len(l.Items), unsettled...) {
		return
	}
	lies := l.HasWord(0, len(l.Items), heaps...)
	for i := range out.Parts {
		p := &out.Parts[i]
		sizes := 0
		for _, is := range []bool{p.Bore > 0, p.Wall > 0, p.Outer > 0, p.Diameter > 0, p.Length > 0, p.Unit == "m"} {
			if is {
				sizes++
			}
		}
		mine := p.Sized() && l.HasWord(0, len(l.Items), "my", "our", "mine")
		if p.Holding == reading.Named && p.Kind != reading.Tool && (lies || mine || sizes > 2) {
			p.Holding = reading.Have
		}
	}
}

// recount takes a new count of the part that was named last on an earlier line, where
// this one names none and says what is left of it: used 2 ft, 4 ft left.
func recount(l *Line) {
	i := len(l.Items) - 1
	for i >= 0 && l.Item(i).Qty == nil {
		i--
	}
	if i < 0 || len(l.Out.Parts)+len(l.Out.Takes)+len(l.Out.Supposed.Parts) > 0 || !l.HasWord(0, len(l.Items), "left", "remain", "remains", "remaining", "leaves", "now", "counted", "checked", "recounted") ||
		slices.ContainsFunc(l.Items, func(it cover.Item) bool { return it.Any("kind", "material", "need") || it.ID != "" }) {
		return
	}
	q := l.Item(i).Qty
	unit := map[quantity.Dim]string{quantity.Length: "m", quantity.Mass: "kg", quantity.Plain: "piece", quantity.Pieces: "piece"}[q.Dim]
	if q.Form == "skein" {
		unit = "skein"
	}
	for _, was := range slices.Backward(l.Ctx.Before.Parts) {
		if was.Holding != reading.Have || was.Unit != unit && !(was.Unit == "skein" && q.Dim == quantity.Plain) || unit == "" || q.Frac && q.Dim == quantity.Plain {
			continue
		}
		p := was
		p.Amount, p.Was, p.Text = q.Value, was.Text, l.Said(i, i+1)
		if p.Unit == "m" && p.Kind == "tube" {
			p.Length = measure.Length(q.Value)
		}
		l.Out.Parts = append(l.Out.Parts, p)
		l.Act(reading.Tell)
		for k := range l.Items {
			l.Item(k).Lost, l.Item(k).Used = false, true
		}
		return
	}
}
