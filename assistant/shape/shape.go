// Package shape reads what a line supposes of the shape of a head in numbers:
// so many layers, a ball of such a size, so many turns of yarn. It knows no
// parts, and never looks for a head.
package shape

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"mallow/knowledge/measure"
)

// Shape is what is supposed. What is not said is below zero, or zero for a size.
type Shape struct {
	Layers int            // rubber layers; -1 when not said
	Turns  int            // of yarn; -1 when not said
	Core   measure.Length // diameter of the ball; 0 when not said
	By     int            // so many more layers or turns than there are, fewer below 0; Layers or Turns is 0 then
}

// On is a shape that says how many more or fewer, for a head that has so many
// layers and turns.
func (s Shape) On(layers, turns int) Shape {
	switch {
	case s.By == 0:
	case s.Turns == 0:
		s.Turns = max(0, turns+s.By)
	default:
		s.Layers = min(max(0, layers+s.By), 5)
	}
	s.By = 0
	return s
}

// String is the shape in words.
func (s Shape) String() string {
	switch {
	case s.Layers == 0:
		return "no rubber layer"
	case s.Layers == 1:
		return "one rubber layer"
	case s.Layers > 1:
		return []string{"two", "three", "four", "five"}[min(s.Layers, 5)-2] + " rubber layers"
	case s.Turns >= 0:
		return fmt.Sprintf("%d turns", s.Turns)
	}
	return "a ball of " + s.Core.Sold()
}

// Sizes that a ball of a mallet can have.
const (
	least = 10 * measure.Millimetre
	most  = 60 * measure.Millimetre
)

var (
	bare   = regexp.MustCompile(`\b(?:no|without|skip|skipping|leave out|leaving out)\s+(?:the\s+|any\s+)?(?:rubber|tubing|slices?|layers?)(?:\s+(?:at all|altogether|completely|entirely))?$`)
	layers = regexp.MustCompile(`\b(no|zero|one|a single|single|two|three|four|five|[0-5])\s+(?:more\s+)?(?:rubber\s+)?(?:layers?|slices?)\b`)
	more   = regexp.MustCompile(`\b(?:(\d{1,3}|one|a|an|another|two|three|ten|twenty|thirty|forty|fifty)\s+(more|extra|additional|fewer|less)\s+(?:rubber\s+)?(turns?|windings?|wraps?|layers?|slices?)|(\d{1,3}|one|two|three|ten|twenty|thirty|forty|fifty)\s+(?:rubber\s+)?(turns?|windings?|wraps?|layers?|slices?)\s+(more|extra|on top|fewer|less))\b`)
	turns  = regexp.MustCompile(`\b(\d{1,3})\s+(?:turns?|windings?|wraps?|times round)\b`)
	size   = regexp.MustCompile(`\d+(?:\.\d+)?(?:\s*-?\s*\d+/\d+)?(?:/\d+)?\s*(?:in\b|inch(?:es)?\b|"|mm\b)?`)
	ball   = regexp.MustCompile(`\b(?:core|ball|bead)\b`)
	unit   = regexp.MustCompile(`(?:in|inch|inches|mm)$|"$|/`)
	// What stands behind a number that says how hard a rubber is.
	hardness = regexp.MustCompile(`^\s*-?(?:duro(?:meter)?|shore|a|d)\b`)
	other    = regexp.MustCompile(`\b(?:tub(?:e|ing)|bore|wall|slice|layer|shaft|dowel|head|across|over|yarn|long)\b| (?:x|by) `)
)

var counts = map[string]int{"no": 0, "zero": 0, "one": 1, "a single": 1, "single": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
	"a": 1, "an": 1, "another": 1, "ten": 10, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50}

// Read returns what a line supposes, and whether it supposes anything. A size
// without a name is a ball's, if it lies where those do and has a unit or a
// fraction.
func Read(line string) (Shape, bool) {
	s := Shape{Layers: -1, Turns: -1}
	line = strings.ToLower(strings.TrimRight(strings.TrimSpace(line), " ?!."))
	if m := more.FindStringSubmatch(line); m != nil {
		count, way, what := m[1]+m[4], m[2]+m[6], m[3]+m[5]
		n, ok := counts[count]
		if !ok {
			n, _ = strconv.Atoi(count) // three digits
		}
		if way == "fewer" || way == "less" {
			n = -n
		}
		if s.By = n; what[0] == 'l' || what[0] == 's' {
			s.Layers = 0
		} else {
			s.Turns = 0
		}
		return s, n != 0
	}
	if m := turns.FindStringSubmatch(line); m != nil {
		s.Turns, _ = strconv.Atoi(m[1]) // three digits
		return s, true
	}
	if bare.MatchString(line) {
		s.Layers = 0
		return s, true
	}
	if m := layers.FindStringSubmatch(line); m != nil && !strings.Contains(m[0], "more") {
		n, ok := counts[m[1]]
		if !ok {
			n, _ = strconv.Atoi(m[1]) // one digit
		}
		s.Layers = n
		return s, true
	}
	named := ball.MatchString(line)
	if other.MatchString(line) {
		return s, false
	}
	for _, at := range size.FindAllStringIndex(line, -1) {
		text := strings.TrimSpace(line[at[0]:at[1]])
		if !named && !unit.MatchString(text) || hardness.MatchString(line[at[1]:]) {
			continue
		}
		l, err := measure.LikelyLength(text, least, most)
		if err == nil && l >= least && l <= most && !math.IsNaN(float64(l)) {
			s.Core = l
			return s, true
		}
	}
	return s, false
}
