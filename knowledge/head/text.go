package head

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
)

// maxText is the longest stack text, in bytes, that Parse looks at.
const maxText = 1000

// TextError says which part of a stack text is wrong, and why.
type TextError struct {
	Part string // the part as written, or "" when it is the whole text
	What string
}

func (e *TextError) Error() string {
	if e.Part == "" {
		return "stack: " + e.What
	}
	return "stack, at " + measure.Quote(e.Part) + ": " + e.What
}

// Parse reads a stack from text, inside out, its parts joined by plus signs:
//
//	poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16
//
// First a core; then any number of slices of tubing; then a yarn or none;
// then a shaft or none. Parts are ids of the catalogue. Tubing may also be
// written as bore x wall, in inches unless it says mm, with the id of its
// material and a hyphen in front unless it is latex; it need not be a stock
// size. A slice length follows an @, in inches unless it says mm; without it
// the slice takes the recommended cut. Turns of yarn follow a *; without them
// the wrap is the yarn's plain one.
//
// The error is a *TextError.
func Parse(cat *knowledge.Catalogue, text string) (Stack, error) {
	if len(text) > maxText {
		return Stack{}, &TextError{What: fmt.Sprintf("longer than %d characters", maxText)}
	}
	if strings.TrimSpace(text) == "" {
		return Stack{}, &TextError{What: "nothing written; start with a core, such as poly-1-1/8 + 3/4x1/8@1 + wool-medium"}
	}
	var s Stack
	for i, part := range strings.Split(text, "+") {
		part = strings.TrimSpace(part)
		if err := s.add(cat, i == 0, part); err != nil {
			return Stack{}, &TextError{Part: part, What: err.Error()}
		}
	}
	if err := s.Check(); err != nil {
		return Stack{}, &TextError{What: err.Error()}
	}
	return s, nil
}

// add puts the next part outwards on s.
func (s *Stack) add(cat *knowledge.Catalogue, first bool, part string) error {
	id, length, cut := strings.Cut(part, "@")
	id, turns, turned := strings.Cut(id, "*")
	id = strings.ToLower(strings.TrimSpace(id)) // as all ids are
	if id == "" {
		return errors.New("a plus sign with no part beside it")
	}
	core, isCore := cat.Core(id)
	yarn, isYarn := cat.Yarn(id)
	shaft, isShaft := cat.Shaft(id)
	tube, isTube := cat.Tube(id)
	known := isCore || isYarn || isShaft || isTube
	isSize := !known && looksLikeSize(id)
	if isSize && !first {
		var err error
		if tube, err = tubeOf(cat, id); err != nil {
			return err
		}
		known, isTube = true, true
	}
	switch {
	case first && (known || isSize) && !isCore:
		return errors.New("a stack starts with its core, then goes outwards")
	case !known && first:
		return unknown(id, ids(cat.Cores, func(c knowledge.Core) string { return c.ID }))
	case !known:
		return unknown(id, cat.PartIDs())
	case cut && !isTube && !isYarn:
		return errors.New("only tubing is followed by @ and a slice length, and yarn by @ and a tension")
	case turned && !isYarn:
		return errors.New("only yarn is followed by * and a number of turns")
	case isCore && !first:
		return errors.New("a head has one core")
	case isTube && (s.Wrap != nil || s.Shaft != nil):
		return errors.New("tubing goes under the yarn and before the shaft")
	case isYarn && (s.Wrap != nil || s.Shaft != nil):
		return errors.New("a head has one yarn, over the tubing and before the shaft")
	case isShaft && s.Shaft != nil:
		return errors.New("a head has one shaft")
	case isCore:
		s.Core = core
		return materialOf(cat, core.Material, &s.Material)
	case isTube:
		sl := Slice{Tube: tube}
		if cut {
			var err error
			if sl.Cut, err = measure.ParseLength(length, measure.Inch); err != nil {
				return err
			}
			if sl.Cut == 0 {
				return errors.New("a slice can't be 0 long; leave @ out for the recommended cut")
			}
		}
		if err := materialOf(cat, tube.Material, &sl.Rubber); err != nil {
			return err
		}
		s.Slices = append(s.Slices, sl)
		return sl.check()
	case isYarn:
		w := &Wrap{Yarn: yarn}
		if cut {
			number := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(strings.TrimSpace(length)), "n"))
			n, err := strconv.ParseFloat(number, 64)
			if err != nil || !(n >= leastTensionN && n <= mostTensionN) {
				return fmt.Errorf("a tension is %g to %d newtons, as in %s*140@4N", leastTensionN, mostTensionN, yarn.ID)
			}
			w.TensionN = n
		}
		if turned {
			n, err := strconv.Atoi(strings.TrimSpace(turns))
			if err != nil || n < 1 || n > mostTurns {
				return fmt.Errorf("turns are a whole number from 1 to %d, as in %s*140", mostTurns, id)
			}
			w.Turns = n
		}
		s.Wrap = w
		return materialOf(cat, yarn.Fibre, &w.Fibre)
	default:
		s.Shaft = &shaft
		return nil
	}
}

func unknown(id string, among []string) error {
	what := "no part of that name"
	if hint := words.Hint(id, among); hint != "" {
		what += "; " + hint
	}
	return errors.New(what)
}

func ids[T any](list []T, id func(T) string) []string {
	all := make([]string, len(list))
	for i, x := range list {
		all[i] = id(x)
	}
	return all
}

func materialOf(cat *knowledge.Catalogue, id string, to *knowledge.Material) error {
	m, ok := cat.Material(id)
	if !ok {
		return fmt.Errorf("its material %q is not in the catalogue", id)
	}
	*to = m
	return nil
}

// looksLikeSize reports whether id is meant as bore x wall: an x between what
// may be numbers.
func looksLikeSize(id string) bool {
	before, after, ok := cutTimes(id)
	return ok && strings.ContainsAny(before, "0123456789¼½¾⅛⅜⅝⅞") && strings.ContainsAny(after, "0123456789¼½¾⅛⅜⅝⅞")
}

// cutTimes cuts at the last multiplication sign.
func cutTimes(id string) (before, after string, ok bool) {
	for _, sign := range []string{"x", "×"} {
		if i := strings.LastIndex(id, sign); i >= 0 {
			return id[:i], id[i+len(sign):], true
		}
	}
	return id, "", false
}

// tubeOf returns the tube that a size describes: the stock one when there is
// one, else a tube of its own, with the tolerances of the stock tube of the
// same material with the nearest wall.
func tubeOf(cat *knowledge.Catalogue, id string) (knowledge.Tube, error) {
	material, size, named := defaultLatex(cat), id, false
	for _, m := range cat.Materials {
		if rest, ok := strings.CutPrefix(id, m.ID+"-"); ok && m.Family == "rubber" {
			named = named || m.ID != material
			material, size = m.ID, rest
			break
		}
	}
	if material == "" {
		return knowledge.Tube{}, errors.New("the catalogue has no latex tubing; write the tubing's id")
	}
	before, after, _ := cutTimes(size)
	if r, _ := utf8.DecodeRuneInString(size); unicode.IsLetter(r) { // a name, misspelt
		return knowledge.Tube{}, unknown(id, cat.PartIDs())
	}
	bore, err := measure.ParseLength(before, measure.Inch)
	if err != nil {
		return knowledge.Tube{}, fmt.Errorf("bore %w", err)
	}
	wall, err := measure.ParseLength(after, measure.Inch)
	if err != nil {
		return knowledge.Tube{}, fmt.Errorf("wall %w", err)
	}
	t := knowledge.Tube{ID: sizeText(bore) + "x" + sizeText(wall), Material: material, Bore: bore, Wall: wall}
	if named {
		t.ID = material + "-" + t.ID
	}
	nearest := math.Inf(1)
	for _, stock := range cat.Tubing {
		if stock.Material != material {
			continue
		}
		if same(stock.Bore, bore) && same(stock.Wall, wall) {
			return stock, nil
		}
		if off := math.Abs(float64(stock.Wall - wall)); off < nearest {
			nearest, t.BoreTol, t.WallTol = off, stock.BoreTol, stock.WallTol
		}
	}
	return t, nil
}

// defaultLatex returns the material that tubing has when none is named: that
// of the first latex tubing.
func defaultLatex(cat *knowledge.Catalogue) string {
	for _, t := range cat.Tubing {
		if m, ok := cat.Material(t.Material); ok && m.Latex {
			return m.ID
		}
	}
	return ""
}

// same reports whether two lengths are one as written.
func same(a, b measure.Length) bool { return math.Abs(float64(a-b)) < 1e-9 }

// sizeText writes a length as in a stack text: 1-1/8, 0.0701 or 28.6mm.
func sizeText(l measure.Length) string {
	text, err := l.MarshalText()
	if err != nil {
		return strconv.FormatFloat(float64(l), 'f', -1, 64) + "m" // can't be parsed from a checked stack
	}
	s := strings.TrimSuffix(string(text), " in")
	return strings.ReplaceAll(strings.Replace(s, " ", hyphen(s), 1), " ", "")
}

// hyphen joins 1 and 1/8 but not 28.6 and mm.
func hyphen(s string) string {
	if strings.Contains(s, "/") {
		return "-"
	}
	return ""
}

// String writes the stack as Parse reads it.
func (s Stack) String() string {
	var b strings.Builder
	b.WriteString(s.Core.ID)
	for _, sl := range s.Slices {
		b.WriteString(" + " + sl.Tube.ID)
		if sl.Cut != 0 {
			b.WriteString("@" + sizeText(sl.Cut))
		}
	}
	if w := s.Wrap; w != nil {
		b.WriteString(" + " + w.Yarn.ID)
		if w.Turns != 0 {
			b.WriteString("*" + strconv.Itoa(w.Turns))
		}
		if w.TensionN != 0 {
			b.WriteString("@" + strconv.FormatFloat(w.TensionN, 'g', 3, 64) + "N")
		}
	}
	if s.Shaft != nil {
		b.WriteString(" + " + s.Shaft.ID)
	}
	return b.String()
}
