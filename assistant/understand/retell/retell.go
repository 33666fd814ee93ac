// Package retell says in plain words what was taken from a text, in the word
// list's own words. It never decides what was taken.
package retell

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Speaker says readings back.
type Speaker struct {
	cat    *knowledge.Catalogue
	grades []lexis.Grade
	echo   map[string]string // how an answer is said, by path=value
}

// New returns a speaker of the catalogue's words and grades.
func New(cat *knowledge.Catalogue, grades []lexis.Grade) *Speaker {
	s := &Speaker{cat, grades, map[string]string{}}
	for _, w := range cat.Words {
		key := w.Slot + "=" + w.Value
		if w.Slot == "want.softness" {
			continue // said by grade
		}
		if s.echo[key] == "" && !lexis.IsPattern(w.Say[0]) {
			s.echo[key] = w.Say[0]
		}
	}
	return s
}

// Take says an answer in the word list's own words.
func (r *Speaker) Take(a reading.Take) string {
	text := r.sayValue(a.Path, a.Value)
	switch a.Bound {
	case "most":
		text = "at most " + text
	case "least":
		text = "at least " + text
	case "about":
		text = "about " + text
	}
	if a.Not {
		text = "not " + text
	}
	return text
}

func (r *Speaker) sayValue(path string, value any) string {
	if say, ok := r.echo[fmt.Sprintf("%s=%v", path, value)]; ok {
		return say
	}
	switch v := value.(type) {
	case string:
		if path == "instrument.id" {
			for _, in := range r.cat.Instruments {
				if in.ID == v {
					return in.Name
				}
			}
		}
		return Name(path) + " " + v
	case bool:
		if say, ok := r.echo[fmt.Sprintf("%s=%v", path, !v)]; ok {
			return "without " + say
		}
		return fmt.Sprintf("%s: %v", Name(path), v)
	case float64:
		switch path {
		case "want.mass_g", "player.easy_g", "player.most_g":
			return fmt.Sprintf("%s g a head", lexis.FormatNumber(round(v, 1)))
		case facts.HeadMassG:
			return fmt.Sprintf("the head at hand: %s g", lexis.FormatNumber(round(v, 1)))
		case facts.HeadDiameterMM:
			return fmt.Sprintf("the head at hand: %s across", (measure.Length(v) * measure.Millimetre).String())
		case "want.diameter_mm":
			return fmt.Sprintf("%s across", (measure.Length(v) * measure.Millimetre).String())
		case "class.size":
			return many(v, "student")
		case "want.heads":
			return many(v, "head") + " to build"
		case "want.pairs":
			return many(v, "pair")
		case "want.total_budget":
			return measure.Money(math.Round(v)).String() + " in all"
		case "want.budget":
			return measure.Money(math.Round(v)).String() + " to spend on a pair"
		case "instrument.low_hz":
			return "from " + measure.NoteNear(v).String() + " up"
		case "instrument.high_hz":
			return "up to " + measure.NoteNear(v).String()
		case "want.softness":
			for _, g := range r.grades {
				if g.Notches == v {
					return g.Name
				}
			}
			if v > 0 {
				return fmt.Sprintf("%s notches softer than medium", lexis.FormatNumber(v))
			}
			return fmt.Sprintf("%s notches harder than medium", lexis.FormatNumber(-v))
		}
		return fmt.Sprintf("%s %s", Name(path), lexis.FormatNumber(v))
	}
	return Name(path)
}

// many is a number of things.
func many(n float64, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return lexis.FormatNumber(n) + " " + thing
}

// Name names a fact without its unit: mass of want.mass_g.
func Name(path string) string {
	name := path[strings.Index(path, ".")+1:]
	switch name {
	case "mass_g":
		return "weight"
	case "diameter_mm", "core_mm", "rubber_mm":
		return map[string]string{"diameter_mm": "size", "core_mm": "core", "rubber_mm": "rubber"}[name]
	case "notches":
		return "softness"
	case "core_a":
		return "hardness of the core"
	case "tube":
		return "tubing"
	}
	return strings.ReplaceAll(name, "_", " ")
}

// Move says a relative wish.
func Move(m reading.Move) string {
	word := comparative(m)
	by := math.Abs(m.By)
	switch {
	case m.Unit == "notches":
		if by == 1 {
			return "1 notch " + word
		}
		return lexis.FormatNumber(round(by, 1)) + " notches " + word
	case m.Unit == "cents":
		return measure.Money(math.Round(by)).String() + " " + word
	case m.Unit != "":
		return lexis.FormatNumber(round(by, 1)) + " " + m.Unit + " " + word
	case by < 1:
		return "a little " + word
	case by > 1:
		return "much " + word
	}
	return word
}

// comparative names the direction of a move.
func comparative(m reading.Move) string {
	words, ok := map[string][2]string{ // less, more
		"want.softness":    {"harder", "softer"},
		"want.mass_g":      {"lighter", "heavier"},
		"want.diameter_mm": {"smaller", "larger"},
		"want.budget":      {"cheaper", "dearer"},
		"want.colour":      {"darker", "brighter"},
		"want.attack":      {"clearer", "more blended"},
		"want.opening":     {"steadier", "opening up more"},
		"head.layers":      {"one layer fewer", "one layer more"},
		"head.rubber_mm":   {"thinner rubber", "thicker rubber"},
		"head.core_mm":     {"a smaller core", "a larger core"},
		"head.turns":       {"less yarn", "more yarn"},
	}[m.Path]
	switch {
	case !ok && m.By < 0:
		return "less " + Name(m.Path)
	case !ok:
		return "more " + Name(m.Path)
	case m.By < 0:
		return words[0]
	}
	return words[1]
}

// Part says a part as it was described.
func (r *Speaker) Part(p reading.Part) string {
	var w []string
	switch p.Holding {
	case reading.Have:
		w = append(w, "on hand:")
	case reading.Lack:
		w = append(w, "not on hand:")
	case reading.Need:
		w = append(w, "to buy:")
	case reading.Avoid:
		w = append(w, "without")
	}
	switch {
	case p.Unit == "piece":
		w = append(w, lexis.FormatNumber(p.Amount))
	case p.Unit == "skein":
		w = append(w, many(p.Amount, "skein"), "of")
	case p.Unit == "kg":
		w = append(w, lexis.FormatNumber(round(measure.Mass(p.Amount).Grams(), 1))+" g of")
	case p.Unit == "m":
		w = append(w, measure.Length(p.Amount).String()+" of")
	}
	if p.Bore > 0 || p.Wall > 0 {
		w = append(w, bySize(p.Bore, p.Wall))
	}
	if p.Diameter > 0 {
		w = append(w, p.Diameter.String())
	}
	if p.Length > 0 {
		w = append(w, p.Length.String())
	}
	if p.Durometer > 0 {
		w = append(w, lexis.FormatNumber(p.Durometer), cmp.Or(p.Shore, "A"))
	}
	w = append(w, strings.Fields(p.Weight)...)
	w = append(w, strings.Fields(cmp.Or(p.Made, p.Material))...)
	if len(p.IDs) == 1 && p.Material == "" && p.Bore == 0 && p.Diameter == 0 && p.Length == 0 {
		w = append(w, p.IDs[0])
	} else if p.Kind != "" {
		w = append(w, kind(p))
	}
	return strings.TrimSpace(strings.Join(w, " "))
}

// kind says what a part is, of so many pieces.
func kind(p reading.Part) string {
	name := cmp.Or(map[string]string{"core": "ball", "tube": "tubing"}[p.Kind], p.Kind)
	switch {
	case p.Kind == reading.Tool, p.Kind == "glue" && strings.HasSuffix(p.Made, name): // hot glue
		return ""
	case p.Unit == "piece" && p.Amount != 1 && (p.Kind == "core" || p.Kind == "shaft"):
		return name + "s"
	}
	return name
}

// bySize says tubing's bore and wall.
func bySize(bore, wall measure.Length) string {
	switch {
	case wall == 0:
		return bore.String() + " bore"
	case bore == 0:
		return wall.String() + " wall"
	}
	return bore.String() + " by " + wall.String()
}

func round(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}
