package readingtest

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Verdict is how a line was read, the worse the later.
type Verdict int

const (
	Right  Verdict = iota
	Asked          // what is lacking or beside is asked
	Missed         // something is lacking, and something was named as not understood
	Wrong          // something is lacking or beside, and nothing was said of it
)

// judge compares a reading with what was expected of a line.
type judge struct {
	rec      Record
	got      reading.Report
	soft     map[string]float64 // words for softness, in notches
	complain []string
	worst    Verdict
}

func (j *judge) bad(v Verdict, format string, args ...any) {
	j.worst = max(j.worst, v)
	j.complain = append(j.complain, fmt.Sprintf(format, args...))
}

func (j *judge) asks(path string) bool {
	return slices.Contains(j.got.Asks, reading.AskReport{Path: path})
}

// lacks notes that something expected was not read.
func (j *judge) lacks(path, format string, args ...any) {
	what := fmt.Sprintf(format, args...)
	may := slices.Contains(j.rec.MayAsk, path)
	switch {
	case may && len(j.got.Asks) == 0:
	case j.asks(path) || may: // another question is none about this
		j.bad(Asked, "asks, lacks %s", what)
	case len(j.got.Missed) > 0:
		j.bad(Missed, "lacks %s", what)
	default:
		j.bad(Wrong, "lacks %s", what)
	}
}

var takeForm = regexp.MustCompile(`^([a-z_.]+)\s*(!=|<=|>=|~|=)\s*(.*)$`)

// implied are facts that may follow from others and count neither way.
var implied = []string{
	"player.mallets", "player.latex_ok", "player.rubber_ok", "player.solvent_ok", "instrument.bars", "instrument.id",
	"player.hand_n", "instrument.low_hz", "instrument.high_hz", "instrument.octaves",
}

func (j *judge) takes() {
	used := map[int]bool{}
	expected := map[string]bool{}
	for _, want := range j.rec.Expect.Takes {
		m := takeForm.FindStringSubmatch(want)
		if m == nil {
			j.bad(Wrong, "the corpus has %q", want)
			continue
		}
		path, op, value := m[1], m[2], strings.TrimSpace(m[3])
		expected[path] = true
		at := slices.IndexFunc(j.got.Takes, func(t reading.TakeReport) bool {
			if t.Path != path || t.Not != (op == "!=") || !j.same(path, value, t.Value) {
				return false
			}
			if op == "<=" && strings.Contains(path, "budget") { // which is a most by itself
				return t.Bound != "least"
			}
			return op != "<=" && op != ">=" || t.Bound == map[string]string{"<=": "most", ">=": "least"}[op]
		})
		if at >= 0 {
			used[at] = true
			continue
		}
		if slices.Contains(j.rec.MayAsk, path) && j.asks(path) {
			continue
		}
		i := slices.IndexFunc(j.got.Takes, func(t reading.TakeReport) bool { return t.Path == path })
		if i >= 0 && !j.asks(path) {
			j.bad(Wrong, "%s read as %v %v %s", want, j.got.Takes[i].Value, j.got.Takes[i].Not, j.got.Takes[i].Bound)
			continue
		}
		j.lacks(path, "%s", want)
	}
	for i, t := range j.got.Takes {
		if used[i] {
			continue
		}
		must := slices.ContainsFunc(j.rec.MustNot, func(s string) bool {
			m := takeForm.FindStringSubmatch(s)
			return m != nil && m[1] == t.Path && !t.Not && j.same(t.Path, m[3], t.Value)
		})
		switch {
		case must:
			j.bad(Wrong, "must not take %s=%v", t.Path, t.Value)
		case expected[t.Path], slices.Contains(j.rec.MayAsk, t.Path):
		case j.asks(t.Path):
			j.bad(Asked, "asks beside: %s", t.Path)
		case slices.Contains(implied, t.Path):
		case t.Path == facts.PlayerGrip && t.Value == "two" && slices.Contains(j.rec.Expect.Takes, "player.mallets=2"): // which is that grip
		default:
			j.bad(Wrong, "takes beside: %s=%v", t.Path, t.Value)
		}
	}
}

// wishOf is the fact that is wished for where one of the head is named.
func wishOf(path string) string { return strings.Replace(path, "head.", "want.", 1) }

func (j *judge) moves() {
	way := func(by float64) string {
		if by > 0 {
			return "+"
		}
		return "-"
	}
	expected := map[string]bool{}
	for _, take := range j.rec.Expect.Takes {
		if m := takeForm.FindStringSubmatch(take); m != nil {
			expected[m[1]] = true
		}
	}
	for _, want := range j.rec.Expect.Moves {
		i := strings.IndexAny(want, "+-")
		if i < 0 {
			continue
		}
		path := wishOf(want[:i])
		expected[path] = true
		if !slices.ContainsFunc(j.got.Moves, func(m reading.MoveReport) bool { return wishOf(m.Path) == path && way(m.By) == want[i:i+1] }) {
			j.lacks(path, "move %s", want)
		}
	}
	for _, m := range j.got.Moves {
		switch {
		case expected[wishOf(m.Path)]:
		case j.asks(m.Path):
			j.bad(Asked, "asks beside: %s", m.Path)
		default:
			j.bad(Wrong, "moves beside: %s%s", m.Path, way(m.By))
		}
	}
}

func (j *judge) parts() {
	left := slices.Clone(j.got.Parts)
	for _, want := range j.rec.Expect.Parts {
		kind, _ := want["kind"].(string)
		i := slices.IndexFunc(left, func(p reading.PartReport) bool { return p.Kind == kind && fits(want, p) })
		if i >= 0 {
			left = slices.Delete(left, i, i+1)
			continue
		}
		if k := slices.IndexFunc(left, func(p reading.PartReport) bool { return p.Kind == kind }); k >= 0 && len(j.got.Missed)+len(j.got.Asks) == 0 {
			j.bad(Wrong, "part %v read as %+v", want, left[k])
			continue
		}
		j.lacks("parts", "part %v", want)
	}
	if len(j.rec.Expect.Parts) == 0 {
		for _, p := range j.got.Parts {
			if p.Holding == reading.Have {
				j.bad(Wrong, "has a part beside: %s", p.Kind)
			}
		}
	}
}

// fits reports whether a part is read as it was described.
func fits(want map[string]any, p reading.PartReport) bool {
	if h := fmt.Sprint(want["holding"]); (h == "lack" || h == "avoid" || h == "have") && h != string(p.Holding) {
		return false
	}
	for field, got := range map[string]float64{"diameter": p.DiameterMM, "bore": p.BoreMM, "wall": p.WallMM, "length": p.LengthMM} {
		if v, ok := want[field]; ok {
			if mm := millimetres(fmt.Sprint(v)); mm > 0 && math.Abs(got-mm) > max(0.15, 0.02*mm) {
				return false
			}
		}
	}
	v, ok := want["amount"]
	if !ok {
		return true
	}
	n, _ := figure(fmt.Sprint(v))
	if p.Amount == 0 {
		return n == 1 || n == 0
	}
	near := func(got, want float64) bool { return math.Abs(got-want) < 0.03*max(1e-3, want) }
	unit := fmt.Sprint(want["unit"])
	long := map[string]float64{"ft": 0.3048, "in": 0.0254, "cm": 0.01, "mm": 0.001, "yd": 0.9144, "m": 1}[unit]
	heavy := map[string]float64{"g": 0.001, "oz": 0.0283, "lb": 0.4536, "kg": 1}[unit]
	return near(p.Amount, n) || long > 0 && near(p.Amount, n*long) || heavy > 0 && near(p.Amount, n*heavy) ||
		long > 0 && p.Unit == "piece" && near(p.Amount*p.LengthMM/1000, n*long) // a reel of 50 m
}

func (j *judge) rest() {
	for _, k := range j.rec.Expect.Keeps {
		ok := slices.ContainsFunc(j.got.Keeps, func(got string) bool { return wishOf(got) == wishOf(k) })
		if !ok && !(strings.HasPrefix(k, "tub") && slices.Contains(j.got.Keeps, "tube")) {
			j.lacks(k, "keep %s", k)
		}
	}
	for _, path := range j.rec.Expect.Withdraws {
		if !slices.Contains(j.got.Withdraws, path) && !slices.ContainsFunc(j.got.Takes, func(t reading.TakeReport) bool { return t.Path == path }) {
			j.lacks(path, "withdraw %s", path)
		}
	}
	got := make([]string, len(j.got.Acts))
	for i, a := range j.got.Acts {
		got[i] = string(a)
	}
	for _, c := range []string{"back", "undo", "restart", "save", "leave", "lesson"} {
		is, want := slices.Contains(got, c), slices.Contains(j.rec.Expect.Acts, c)
		if is && !want {
			j.bad(Wrong, "orders beside: %s", c)
		}
		if want && !is {
			j.lacks("", "order %s", c)
		}
	}
	questions := []string{"ask", "why", "whynot", "whatif", "compare", "define", "help", "show", "more"}
	asks := func(acts []string) bool {
		return slices.ContainsFunc(acts, func(a string) bool { return slices.Contains(questions, a) })
	}
	switch {
	case asks(j.rec.Expect.Acts) && !asks(got):
		j.lacks("", "a question")
	case !asks(j.rec.Expect.Acts) && asks(got) && len(j.got.Asks) == 0:
		v := Wrong
		if len(j.got.Missed) > 0 {
			v = Missed
		}
		j.bad(v, "takes for a question: %v", got)
	}
}

// same reports whether a value was read as it was written in the corpus.
func (j *judge) same(path, want string, got any) bool {
	soft := j.soft
	n, isNumber := got.(float64)
	v, hasNumber := figure(want)
	switch {
	case path == "want.softness":
		w, word := soft[want]
		if !word {
			return isNumber && hasNumber && math.Abs(n-v) < 0.3
		}
		nearest := ""
		for name, at := range soft {
			if nearest == "" || math.Abs(at-n) < math.Abs(soft[nearest]-n) {
				nearest = name
			}
		}
		return nearest == want || math.Abs(n-w) <= 0.7
	case strings.HasSuffix(path, "_hz"):
		hz := v
		if note, err := measure.ParseNote(want); err == nil {
			hz = note.Hz()
		}
		return isNumber && hz > 0 && math.Abs(n/hz-1) < 0.02
	case strings.HasSuffix(path, "diameter_mm"):
		return isNumber && math.Abs(n-millimetres(want)) < 0.3
	case path == "player.tension_n" && !hasNumber:
		lo := map[string]float64{"loose": 0, "ordinary": 3.5, "firm": 5.2}[want]
		hi := map[string]float64{"loose": 4.4, "ordinary": 6, "firm": 99}[want]
		return isNumber && n >= lo && n <= hi
	case strings.HasSuffix(path, "mass_g"):
		m, err := measure.ParseMass(want, measure.Gram)
		return isNumber && err == nil && math.Abs(n-m.Grams()) < 0.02*max(1, m.Grams())
	case strings.Contains(path, "budget"):
		return isNumber && math.Abs(n-100*v) < 1
	case isNumber:
		return hasNumber && math.Abs(n-v) < 0.02*max(1, math.Abs(v))
	}
	return strings.EqualFold(fmt.Sprint(got), want)
}

var firstNumber = regexp.MustCompile(`(-?[\d.]+)(?: (\d+)/(\d+)|/(\d+))?`)

// figure returns the first number in a text: 26, -1.4, 3/4, 1 1/8.
func figure(s string) (float64, bool) {
	m := firstNumber.FindStringSubmatch(s)
	if m == nil {
		return 0, false
	}
	v, err := strconv.ParseFloat(m[1], 64)
	part := func(over, under string) float64 {
		a, _ := strconv.ParseFloat(over, 64)
		b, _ := strconv.ParseFloat(under, 64)
		return a / b
	}
	switch {
	case m[2] != "":
		v += part(m[2], m[3])
	case m[4] != "":
		v = part(m[1], m[4])
	}
	return v, err == nil
}

// millimetres reads a size of the corpus: of bare numbers one that no head has inches of
// is in millimetres, as facts are.
func millimetres(s string) float64 {
	if mm, err := strconv.ParseFloat(s, 64); err == nil && mm > 3 {
		return mm
	}
	l, err := measure.ParseLength(s, measure.Inch)
	if err != nil {
		return 0
	}
	return l.MM()
}

// Judge compares what was made of a line with what was expected of it, and says
// what is amiss.
func Judge(rec Record, got reading.Report, cat *knowledge.Catalogue) (Verdict, []string) {
	j := judge{rec: rec, got: got, soft: softness(cat)}
	j.takes()
	j.moves()
	j.parts()
	j.rest()
	return j.worst, j.complain
}

// softness lists the words for softness, in notches.
func softness(cat *knowledge.Catalogue) map[string]float64 {
	soft := map[string]float64{}
	for _, q := range cat.Questions {
		for _, c := range q.Choices {
			if v, err := strconv.ParseFloat(c.Value, 64); err == nil && q.ID == "want.softness" {
				soft[c.Say] = v
			}
		}
	}
	return soft
}
