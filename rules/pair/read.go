package pair

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
)

// Read reads things as people write them down: weights, sizes or both, each
// thing after an optional name and a colon, any number of them in a line.
//
//	14.2 g, 14.6 g, 13.9 g
//	A: 14.2 g 28.5 mm
//	B: 1/2 oz, 1 1/8 in    # what follows is not read
//
// A new thing begins with a line, with a name, and with a measure of a kind
// that the thing before has already. A number without a unit takes unit, or
// where that is empty the only unit that stands anywhere in the text. The
// errors are fault.Errors and name the place, the column in letters.
func Read(file, text, unit string) ([]Thing, error) {
	r := reading{file: file}
	for i, line := range strings.Split(text, "\n") {
		r.line = i + 1
		r.read(line)
	}
	if unit == "" {
		unit = r.only
	} else if kindOf(unit) == noKind {
		return nil, fault.Errorf("%s is no unit (%s)", measure.Quote(unit), units)
	}
	if len(r.errs) == 0 {
		for _, q := range r.bare {
			r.settle(q, unit)
		}
	}
	var things []Thing
	for _, t := range r.things {
		things = append(things, *t)
	}
	if len(things) == 0 && len(r.errs) == 0 {
		r.wrong(0, "there is no weight and no size in it", "such as 14.2 g 14.6 g")
	}
	return things, r.errs.Err()
}

const units = "one of g, oz, mm, in"

// What one token may be. A fraction may follow a whole number; a unit stands
// behind its number, with a space or without.
var (
	name     = regexp.MustCompile(`^([^\s:=;,]+)[ \t]*[:=]`)
	quantity = regexp.MustCompile(`^((?:\d+[ -])?\d+ ?[/⁄] ?\d+|\d+[ -]?[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\d+(?:[.,]\d+)?|\.\d+)(?:\s*-?\s*(\pL+|["″”“]|''))?`)
	between  = regexp.MustCompile(`^(?:[\s,;/|]|(?:x|X|×|and|at)\b|×)+`)
	word     = regexp.MustCompile(`^[^\s,;]+`)
)

type reading struct {
	file   string
	line   int
	things []*Thing
	bare   []bare
	only   string // the only unit so far, empty when none or several
	mixed  bool
	errs   fault.Errors
}

// bare is a number whose unit is not known yet.
type bare struct {
	line, col int
	text      string
	of        *Thing
}

func (r *reading) wrong(col int, what, hint string) {
	line := r.line
	if col == 0 {
		line = 0
	}
	r.errs = append(r.errs, &fault.Error{File: r.file, Line: line, Col: col, What: what, Hint: hint})
}

func (r *reading) read(line string) {
	var t *Thing
	begin := func(name string) {
		t = &Thing{Name: name}
		r.things = append(r.things, t)
	}
	bareInThing := false
	for at := 0; at < len(line); {
		rest := line[at:]
		col := utf8.RuneCountInString(line[:at]) + 1
		if gap := between.FindString(rest); gap != "" {
			at += len(gap)
			continue
		}
		if m := name.FindStringSubmatch(rest); m != nil {
			if t != nil && t.Mass == 0 && t.Size == 0 && !bareInThing {
				r.wrong(col, measure.Quote(t.Name)+" has no weight and no size", "")
				return
			}
			begin(m[1])
			bareInThing = false
			at += len(m[0])
			continue
		}
		if rest[0] == '#' {
			break
		}
		m := quantity.FindStringSubmatch(rest)
		if m == nil {
			w := word.FindString(rest)
			r.wrong(col, measure.Quote(w)+" is no weight and no size", "such as 14.2 g or 28.5 mm, with a colon after a name")
			return
		}
		number, unit := m[1], m[2]
		if between.MatchString(unit) || name.MatchString(strings.TrimLeft(rest[len(number):], " \t")) {
			unit, m[0] = "", number
		}
		at += len(m[0])
		if strings.ContainsRune(number, ',') && at+1 < len(line) && line[at] == ',' && '0' <= line[at+1] && line[at+1] <= '9' {
			r.wrong(col, "the commas may mark decimals or stand between two numbers", "put a space or a semicolon between two")
			return
		}
		kind := kindOf(unit)
		switch {
		case unit == "":
			if t == nil || t.Mass > 0 || t.Size > 0 || bareInThing {
				begin("")
			}
			bareInThing = true
			r.bare = append(r.bare, bare{r.line, col, number, t})
			continue
		case kind == noKind:
			r.wrong(col, measure.Quote(unit)+" is no unit of weight or size", units)
			return
		case t == nil || bareInThing || kind == mass && t.Mass > 0 || kind == size && t.Size > 0:
			begin("")
			bareInThing = false
		}
		if !r.set(t, col, number, unit) {
			return
		}
		switch {
		case r.only == "" && !r.mixed:
			r.only = unit
		case r.only != unit:
			r.only, r.mixed = "", true
		}
	}
	if t != nil && t.Mass == 0 && t.Size == 0 && !bareInThing && len(r.errs) == 0 {
		r.wrong(1, measure.Quote(t.Name)+" has no weight and no size", "")
	}
}

// set gives t what number and unit say.
func (r *reading) set(t *Thing, col int, number, unit string) bool {
	var err error
	text := number + " " + unit
	if kindOf(unit) == mass {
		t.Mass, err = measure.ParseMass(text, 0)
	} else {
		t.Size, err = measure.ParseLength(text, 0)
	}
	switch {
	case err != nil:
		r.wrong(col, err.Error(), "")
	case t.Mass == 0 && t.Size == 0:
		r.wrong(col, text+": nothing weighs or measures nothing", "")
		return false
	}
	return err == nil
}

// settle reads a number without a unit in unit.
func (r *reading) settle(b bare, unit string) {
	r.line = b.line
	if unit == "" {
		if len(r.errs) == 0 { // once is enough
			r.wrong(b.col, b.text+" has no unit, and could be a weight or a size", "write "+b.text+" g or "+b.text+" mm, or give the unit of all")
		}
		return
	}
	r.set(b.of, b.col, b.text, unit)
}

// kind is what a unit measures.
type kind int

const (
	noKind kind = iota
	mass
	size
)

func kindOf(unit string) kind {
	if _, err := measure.ParseMass("1 "+unit, 0); err == nil {
		return mass
	}
	if _, err := measure.ParseLength("1 "+unit, 0); err == nil {
		return size
	}
	return noKind
}
