package understand_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

// utterance is one case of testdata/utterances: a line that starts with ">"
// and what was said, perhaps one with "?" and what had been asked (with the
// instrument settled by then), and what it should read as, in any order.
type utterance struct {
	where string
	say   string
	ctx   understand.Context
	reads []string
}

func utterances(t testing.TB) []utterance {
	t.Helper()
	files, err := filepath.Glob("testdata/utterances/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no utterances: %v", err)
	}
	var out []utterance
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for n, line := range strings.Split(string(text), "\n") {
			switch {
			case line == "" || line[0] == '#':
			case line[0] == '>':
				u := utterance{where: fmt.Sprintf("%s:%d", filepath.Base(file), n+1), say: strings.TrimPrefix(line[1:], " ")}
				out = append(out, u)
			case line[0] == '?':
				u := &out[len(out)-1]
				f := strings.Fields(line[1:])
				u.ctx.Asked = f[0]
				if len(f) > 1 {
					u.ctx.Instrument = f[1]
				}
			default:
				u := &out[len(out)-1]
				u.reads = append(u.reads, line)
			}
		}
	}
	return out
}

// lines writes a reading the way the files do.
func lines(in reading.Reading, grades []knowledge.Choice) []string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if a := in.Act(); a != reading.Tell {
		add("act %s", a)
	}
	if in.Corrects {
		add("corrects")
	}
	if in.Grades > 0 {
		add("grades %d", in.Grades)
	}
	for _, t := range in.About {
		switch t.Kind {
		case "layer", "choice":
			add("about %s %d", t.Kind, t.N)
		case "text":
			add("about text %s", t.Text)
		default:
			add("%s", strings.TrimSpace("about "+t.Kind+" "+t.ID))
		}
	}
	for _, a := range append(slices.Clone(in.Takes), in.Supposed.Takes...) {
		if a.Path == "instrument.octaves" {
			continue // the instrument says it
		}
		v := fmt.Sprint(a.Value)
		if f, ok := a.Value.(float64); ok {
			v = strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", f+1e-6), "0"), ".")
			if strings.HasSuffix(a.Path, "_hz") {
				v = measure.NoteNear(f).String()
			}
			if a.Path == "want.softness" && !strings.ContainsAny(a.Text, "0123456789") {
				v = softness(f, grades)
			}
		}
		line := a.Path + " = " + v
		if a.Degree != 1 && a.Path != "want.softness" {
			line += fmt.Sprintf(" x%g", a.Degree)
		}
		if a.Bound != "" {
			line += " (" + a.Bound + ")"
		}
		if a.Not {
			line += " (not)"
		}
		if slices.ContainsFunc(in.Asks, func(d reading.Doubt) bool { return d.Path == a.Path }) {
			line += " (unsure)"
		}
		out = append(out, line)
	}
	for _, f := range in.Harm {
		if f.Faint {
			add("asks %s", f.Path)
		}
	}
	for _, p := range append(slices.Clone(in.Parts), in.Supposed.Parts...) {
		out = append(out, partLine(p))
	}
	for _, m := range append(slices.Clone(in.Moves), in.Supposed.Moves...) {
		add("%s", strings.TrimSpace(fmt.Sprintf("move %s %+g %s", m.Path, m.By, m.Unit)))
	}
	for _, k := range in.Keeps {
		add("keep %s", k)
	}
	for _, m := range in.Missed {
		add("missed %s", m)
	}
	slices.Sort(out)
	return out
}

// softness names a softness that was said in words: a grade, "soft..very soft"
// between two, or "beyond very soft".
func softness(notches float64, grades []knowledge.Choice) string {
	below, above := "", ""
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, g := range grades {
		v, _ := strconv.ParseFloat(g.Value, 64)
		switch {
		case v == notches:
			return g.Say
		case v < notches && v > lo:
			lo, below = v, g.Say
		case v > notches && v < hi:
			hi, above = v, g.Say
		}
	}
	switch {
	case above == "":
		return "beyond " + below
	case below == "":
		return "beyond " + above
	case notches < 0:
		return above + ".." + below
	}
	return below + ".." + above
}

func partLine(p reading.Part) string {
	w := []string{string(p.Holding), p.Kind}
	num := func(v float64, places int) string {
		v = math.Round(v*math.Pow10(places)+1e-6) / math.Pow10(places) // 3.175 is 3.18
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	described := p.Material != "" || p.Bore > 0 || p.Wall > 0 || p.Diameter > 0 || p.Durometer > 0
	if !described && len(p.IDs) == 1 {
		w = append(w, p.IDs[0])
	}
	if p.Bore > 0 || p.Wall > 0 {
		w = append(w, num(p.Bore.MM(), 2)+"x"+num(p.Wall.MM(), 2)+"mm")
	}
	if p.Diameter > 0 && p.Kind == "core" {
		w = append(w, num(p.Diameter.MM(), 2)+"mm")
	}
	if p.Material != "" {
		w = append(w, p.Material)
	}
	if p.Diameter > 0 && p.Kind != "core" {
		w = append(w, num(p.Diameter.MM(), 2)+"mm")
	}
	if p.Length > 0 {
		w = append(w, num(p.Length.MM(), 1)+"mm")
	}
	if p.Weight != "" {
		w = append(w, p.Weight)
	}
	if p.Durometer > 0 {
		w = append(w, num(p.Durometer, 0)+"A")
	}
	switch p.Unit {
	case "":
	case "m":
		w = append(w, num(p.Amount, 3)+"m")
	case "kg":
		w = append(w, num(p.Amount*1000, 1)+"g")
	default:
		w = append(w, num(p.Amount, 1), p.Unit)
	}
	return strings.Join(w, " ")
}

func TestUtterances(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r := newReader(t).First()
	all := utterances(t)
	var grades []knowledge.Choice
	for _, q := range cat.Questions {
		if q.ID == "want.softness" {
			grades = q.Choices
		}
	}
	if os.Getenv("UPDATE") != "" {
		update(t, r, grades, all)
	}
	for _, u := range all {
		t.Run(u.where, func(t *testing.T) {
			want := slices.Sorted(slices.Values(u.reads))
			got := lines(r.Read(u.say, u.ctx), grades)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%q, asked %q, reads (-want +got):\n%s", u.say, u.ctx.Asked, diff)
			}
		})
	}
	if len(all) < 300 {
		t.Errorf("%d utterances, want at least 300", len(all))
	}
}

// update writes what is read into the files, for a maker of words to look over.
func update(t *testing.T, r *understand.Reader, grades []knowledge.Choice, all []utterance) {
	t.Helper()
	texts := map[string][]string{}
	for _, u := range all {
		file, at, _ := strings.Cut(u.where, ":")
		path := filepath.Join("testdata/utterances", file)
		if texts[path] == nil {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			texts[path] = strings.Split(string(data), "\n")
		}
		n, _ := strconv.Atoi(at)
		lines := append([]string{texts[path][n-1]}, lines(r.Read(u.say, u.ctx), grades)...)
		if n < len(texts[path]) && strings.HasPrefix(texts[path][n], "?") {
			lines = slices.Insert(lines, 1, texts[path][n])
		}
		for i := n; i < len(texts[path]) && texts[path][i] != "" && !strings.ContainsRune("#>", rune(texts[path][i][0])); i++ {
			texts[path][i] = "\x00"
		}
		texts[path][n-1] = strings.Join(lines, "\n")
	}
	for path, list := range texts {
		list = slices.DeleteFunc(list, func(s string) bool { return s == "\x00" })
		if err := os.WriteFile(path, []byte(strings.Join(list, "\n")), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// TestSecondOpinion counts the utterances of which the second opinion asks what the
// reader is right about: asking is cheap, but not for nothing.
func TestSecondOpinion(t *testing.T) {
	const most = 4 // percent; what was reached
	r := newReader(t)
	first := r.First()
	all, asked := utterances(t), 0
	for _, u := range all {
		was, is := first.Read(u.say, u.ctx), r.Read(u.say, u.ctx)
		if len(is.Asks) > len(was.Asks) {
			asked++
			t.Logf("%q, asked %q: %v", u.say, u.ctx.Asked, is.Asks)
		}
		if len(is.Takes)+len(is.Asks) < len(was.Takes)+len(was.Asks) {
			t.Errorf("%q: %v asks %v where %v was read: something is lost without a word", u.say, is.Takes, is.Asks, was.Takes)
		}
	}
	if 100*asked > most*len(all) {
		t.Errorf("%d of %d utterances are asked about for nothing, at most %d %% were", asked, len(all), most)
	}
}
