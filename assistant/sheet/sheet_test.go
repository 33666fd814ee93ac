package sheet_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"mallow/assistant/page"
	"mallow/assistant/sheet"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/facts/factstest"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// bench is a finder and a maker over the shipped knowledge.
type bench struct {
	*propose.Finder
	*sheet.Maker
}

func newBench(t testing.TB) bench {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	book := factstest.Book(t)
	f, err := propose.New(cat, book)
	if err != nil {
		t.Fatal(err)
	}
	m, err := sheet.NewMaker(cat)
	if err != nil {
		t.Fatal(err)
	}
	return bench{f, m}
}

// grown is an adult with a full bench who has made mallets before.
func grown() facts.Facts {
	return facts.Facts{
		Player: facts.Player{Grip: "two", Level: "some", LatexOK: true, RubberOK: true},
		Bench:  facts.Bench{Drill: true, Scale: true, Caliper: true, Ventilated: true},
	}
}

// asked is the request of somebody who said all that the facts say.
func asked(f facts.Facts) propose.Request {
	all := rules.Known{}
	for _, path := range gate.Paths() {
		all[path] = true
	}
	return propose.Request{Facts: f, Pass: gate.Settle(gate.Of(f, all))}
}

func (b bench) consider(t testing.TB, text string, f facts.Facts) propose.Candidate {
	t.Helper()
	return b.ask(t, text, asked(f))
}

// ask considers a stack for a request.
func (b bench) ask(t testing.TB, text string, q propose.Request) propose.Candidate {
	t.Helper()
	s, err := head.Parse(b.Catalogue(), text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := b.Consider(s, q)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func (b bench) sheet(t testing.TB, text string, f facts.Facts, o sheet.Options) sheet.Sheet {
	t.Helper()
	c := b.consider(t, text, f)
	order, err := b.Order([]propose.Make{{Head: c.Head, Heads: max(o.Heads, 2)}}, asked(f))
	if err != nil {
		t.Fatal(err)
	}
	o.Order = &order
	s, err := b.Sheet(c, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const plain = "poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16"

// minor is a beginner under age, in a class.
func minor() facts.Facts {
	f := grown()
	f.Player.Minor, f.Player.Level, f.Bench.Supervised = true, "first", true
	return f
}

// golden compares with testdata/sheets at the top of the repository.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", "sheets", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("%s differs (-want +got); run with -update if it should:\n%s", path, d)
	}
}

func TestGoldenSheets(t *testing.T) {
	b := newBench(t)
	var out strings.Builder
	if err := b.sheet(t, plain, grown(), sheet.Options{}).Text(&out, page.Style{Width: 80}); err != nil {
		t.Fatal(err)
	}
	golden(t, "one-layer.txt", out.String())
	out.Reset()
	noLatex := minor()
	noLatex.Player.LatexOK = false
	if err := b.sheet(t, "poly-1-1/8 + silicone-3/4x1/8 + wool-medium + birch-16", noLatex, sheet.Options{Heads: 4, For: "a learner"}).Text(&out, page.Style{Width: 60, Plain: true}); err != nil {
		t.Fatal(err)
	}
	golden(t, "no-latex-minor-plain.txt", out.String())
	out.Reset()
	if err := b.sheet(t, "rubber-50a-1-1/8 + wool-medium + birch-16", grown(), sheet.Options{}).Markdown(&out); err != nil {
		t.Fatal(err)
	}
	golden(t, "rubber-core.md", out.String())
}

// The numbers on the sheet are this head's: each expected mass and diameter
// stands at its step.
func TestStepsCarryTheHeadsNumbers(t *testing.T) {
	b := newBench(t)
	c := b.consider(t, "poly-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", grown())
	s, err := b.Sheet(c, sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	h := c.Head
	for _, want := range []struct {
		id    string
		layer int
		in    string
	}{
		{"weigh-core", 0, fmt.Sprintf("%.1f ± %.1f g", h.CoreMass.Grams(), h.CoreMassTol.Grams())},
		{"cut-slice", 1, h.Layers[0].Cut.Rule()},
		{"cut-slice", 2, h.Layers[1].Cut.Rule()},
		{"weigh-after-layer", 1, fmt.Sprintf("%.1f ±", (h.CoreMass + h.Layers[0].Mass).Grams())},
		{"weigh-after-layer", 2, fmt.Sprintf("%.1f ± %.1f g", h.BareMass.Grams(), h.BareMassTol.Grams())},
		{"measure-after-layer", 2, fmt.Sprintf("%.0f ±", h.Layers[1].Outer.MM())},
		{"wrap-second", 0, fmt.Sprintf("%d turns in all", h.Turns)},
		{"weigh-head", 0, fmt.Sprintf("%.1f ± %.1f g", h.Mass.Grams(), h.MassTol.Grams())},
		{"balance-check", 0, h.Swing.Balance.Rule()},
	} {
		i := slices.IndexFunc(s.Steps, func(x sheet.Step) bool { return x.ID == want.id && x.Layer == want.layer })
		if i < 0 {
			t.Errorf("no step %s for layer %d", want.id, want.layer)
			continue
		}
		if x := s.Steps[i]; !strings.Contains(x.Check, want.in) && !strings.Contains(x.Text, want.in) {
			t.Errorf("step %d %s: no %q in %q, %q", x.Number, x.ID, want.in, x.Text, x.Check)
		}
	}
	for i, x := range s.Steps {
		if x.Number != i+1 {
			t.Errorf("step %d is numbered %d", i+1, x.Number)
		}
		if all := x.Title + x.Text + x.Check + x.IfOff + x.Undo; strings.ContainsAny(all, "{}?") {
			t.Errorf("step %s has an unfilled text: %q", x.ID, all)
		}
	}
}

// Whole packs for 24 heads and up to 4 spares, worked out by hand: 24 balls and 24
// dowels out of packs of 10; 23 slices of 1 in and their kerfs out of 24 in, so two lengths;
// 24 wraps of 14 to 16 m, so 336 to 384 m, out of skeins of 270 m.
// Spares leave the counts as they are.
func TestShopping(t *testing.T) {
	b := newBench(t)
	f := grown()
	f.Player.Level = "many"
	s := b.sheet(t, plain, f, sheet.Options{Heads: 24})
	got := map[string]int{}
	sum := measure.Money(0)
	for _, p := range s.Buy.Rows {
		sum += p.Cost
		if a, glue := b.Catalogue().Adhesive(p.Part); glue {
			if slices.Contains(a.Joins, "core-shaft") && !slices.ContainsFunc(s.Steps, func(x sheet.Step) bool { return x.ID == "glue-shaft" && strings.Contains(x.Text, a.Name) }) {
				t.Errorf("%s is bought for the shaft, and the step uses something else", a.Name)
			}
			continue
		}
		got[p.Part] = p.Packs
	}
	want := map[string]int{"poly-1-1/8": 3, "latex-3/4x1/8": 2, "wool-medium": 2, "birch-16": 3}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("packs (-want +got):\n%s", d)
	}
	if s.Buy.Total != sum {
		t.Errorf("the list adds up to %v, the sheet says %v", sum, s.Buy.Total)
	}
	if !strings.Contains(s.Buy.Note, "invented") {
		t.Error("the list does not say that its prices are invented")
	}
	slices := 0
	for _, c := range s.Buy.Cuts {
		n := 0
		_, into, _ := strings.Cut(c, "as bought into ")
		fmt.Sscanf(into, "%d of 1 in", &n)
		slices += n
	}
	if slices < 24 || slices > 28 {
		t.Errorf("24 slices and few spares to cut, the plan is %q", s.Buy.Cuts)
	}
}

// The two layers of yarn together are all the turns, whatever their number.
func TestTurnsAddUp(t *testing.T) {
	b := newBench(t)
	number := regexp.MustCompile(`: (\d+) turns`)
	for _, turns := range []int{40, 41, 42, 43, 44, 99, 140, 187} {
		s := b.sheet(t, fmt.Sprintf("poly-1-1/8 + wool-medium*%d + birch-16", turns), grown(), sheet.Options{})
		sum := 0
		for _, x := range s.Steps {
			if m := number.FindStringSubmatch(x.Title); m != nil {
				var n int
				fmt.Sscan(m[1], &n)
				sum += n
			}
		}
		if sum != turns {
			t.Errorf("%d turns: the steps wind %d", turns, sum)
		}
	}
}

// However the questions are answered: a minor gets no solvent step, nobody
// who must avoid latex gets latex, every hazard has its caution at the step.
func TestHazards(t *testing.T) {
	b := newBench(t)
	stacks := []string{
		plain, "poly-1-1/8 + silicone-3/4x1/8 + wool-medium + birch-16", "poly-1-1/8 + 1x1/8 + wool-medium + birch-16",
		"rubber-50a-1-1/8 + 1-1/8x1/16 + wool-medium", "poly-1",
	}
	for n := range 1 << 5 {
		f := grown()
		f.Player.Minor, f.Player.LatexOK, f.Player.SolventOK = n&1 != 0, n&2 != 0, n&4 != 0
		f.Bench.Ventilated, f.Bench.Drill = n&8 != 0, n&16 != 0
		for _, text := range stacks {
			c := b.consider(t, text, f)
			s, err := b.Sheet(c, sheet.Options{})
			if c.Facts.Head.Latex && !f.Player.LatexOK {
				if !errors.Is(err, sheet.ErrLatex) {
					t.Fatalf("%s for someone who must avoid latex: %v", text, err)
				}
				continue
			}
			if err != nil {
				t.Fatalf("%s, minor %v, solvent %v: %v", text, f.Player.Minor, f.Player.SolventOK, err)
			}
			has := func(x sheet.Step, id string) bool {
				return slices.ContainsFunc(x.Cautions, func(c sheet.Caution) bool { return c.ID == id && c.Hazard != "" && c.Do != "" && c.Defer != "" })
			}
			for _, x := range s.Steps {
				for step, caution := range map[string]string{"drill-core": "drill-round", "cut-slice": "knife", "crown-stitch": "needle", "glue-shaft": "epoxy-skin",
					"glue-slice-solvent": "solvent-vapour", "label-latex": "latex-allergy"} {
					if x.ID == step && !has(x, caution) {
						t.Errorf("%s: step %s without caution %s", text, step, caution)
					}
				}
				if x.ID == "cut-slice" && f.Player.Minor && !has(x, "adult") {
					t.Errorf("%s: a minor cuts without an adult", text)
				}
				if x.ID == "cut-slice" && c.Facts.Head.Latex && !has(x, "latex-allergy") {
					t.Errorf("%s: latex is cut without its caution", text)
				}
				if x.ID == "drill-core" && c.Head.Stack.Shaft == nil {
					t.Errorf("%s: bored for no shaft", text)
				}
				if f.Player.Minor && (x.ID == "glue-slice-solvent" || has(x, "solvent-vapour") || has(x, "solvent-fire")) {
					t.Errorf("%s: a minor is given a solvent at step %d", text, x.Number)
				}
				for _, c := range x.Cautions {
					if !slices.ContainsFunc(s.Safety.Cautions, func(y sheet.Caution) bool { return y.ID == c.ID }) {
						t.Errorf("%s: caution %s of step %d is not on the safety page", text, c.ID, x.Number)
					}
				}
			}
			if s.Safety.Latex != c.Facts.Head.Latex {
				t.Errorf("%s: the safety page says latex %v", text, s.Safety.Latex)
			}
			if f.Player.Minor && len(s.Safety.Solvents) > 0 && s.Safety.Solvents[0].Name != "ammonia" {
				t.Errorf("%s: solvents %v for a minor", text, s.Safety.Solvents)
			}
		}
	}
}

// A rule book that sends a minor to a solvent is refused, not printed.
func TestMakerRefusesSolventForAMinor(t *testing.T) {
	b := newBench(t)
	f := grown()
	c := b.consider(t, plain, f)
	i := slices.IndexFunc(c.Trace, func(f0 firing) bool { return f0.Rule.Give == "glue-slice-solvent" && f0.About == "layer 1" })
	if i < 0 {
		t.Fatal("no rule gives glue-slice-solvent")
	}
	c.Trace = slices.Clone(c.Trace)
	c.Trace[i].State = fired
	c.Pass = c.Pass.But(gate.Minor, true)
	if _, err := b.Sheet(c, sheet.Options{}); err == nil || !strings.Contains(err.Error(), "not for a minor") {
		t.Errorf("a solvent step for a minor: %v", err)
	}
}

// hostile is a name that tries to get out of every rendering.
const hostile = "<script>alert(1)</script>|x\x1b[31m\n# \"'&`}}{{.}}"

func TestHostileNames(t *testing.T) {
	b := newBench(t)
	c := b.consider(t, plain, grown())
	c.Head.Stack.Core.Name, c.Head.Stack.Material.Name = hostile, hostile
	c.Head.Layers[0].Slice.Rubber.Name = hostile
	wrap := *c.Head.Stack.Wrap
	wrap.Yarn.Name = hostile
	c.Head.Stack.Wrap = &wrap
	s, err := b.Sheet(c, sheet.Options{For: hostile})
	if err != nil {
		t.Fatal(err)
	}
	bundle, err := b.Maker.Class(hostile, []sheet.Entry{{Candidate: c, Options: sheet.Options{For: hostile}}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, render := range map[string]func(io.Writer) error{
		"text":       func(w io.Writer) error { return s.Text(w, page.Style{Width: 80}) },
		"plain":      func(w io.Writer) error { return s.Text(w, page.Style{Width: 80, Plain: true}) },
		"markdown":   s.Markdown,
		"html":       s.HTML,
		"class html": bundle.HTML,
		"class text": func(w io.Writer) error { return bundle.Text(w, page.Style{Width: 80}) },
	} {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			if err := render(&out); err != nil {
				t.Fatal(err)
			}
			got := out.String()
			if strings.ContainsRune(got, 0x1b) {
				t.Error("an escape character came through")
			}
			if strings.Contains(name, "html") || name == "markdown" {
				if strings.Contains(got, "<script") {
					t.Error("a script came through")
				}
			}
			if name == "markdown" {
				for line := range strings.Lines(got) {
					if strings.Contains(line, "alert") && strings.Contains(line, "</script>|") {
						t.Errorf("an unescaped bar in a table: %q", line)
					}
				}
			}
			if strings.Contains(name, "html") {
				wellFormed(t, got)
			}
		})
	}
}

func TestJSON(t *testing.T) {
	b := newBench(t)
	s := b.sheet(t, plain, grown(), sheet.Options{For: hostile})
	var out bytes.Buffer
	if err := s.JSON(&out); err != nil {
		t.Fatal(err)
	}
	var back sheet.Sheet
	d := json.NewDecoder(&out)
	d.DisallowUnknownFields()
	if err := d.Decode(&back); err != nil {
		t.Fatal(err)
	}
	if back.For != hostile || len(back.Steps) != len(s.Steps) || back.Layers[0].CutMM != 25.4 {
		t.Errorf("JSON came back as %q, %d steps, cut %g mm", back.For, len(back.Steps), back.Layers[0].CutMM)
	}
}

// wellFormed reads a page as XML, which is stricter than HTML, and checks what
// a screen reader needs: one title, unique ids, labels that exist, scopes on
// header cells, headings without gaps, named pictures.
func wellFormed(t *testing.T, html string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(html))
	ids, labels := map[string]bool{}, []string{}
	titles, level := 0, 1
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		attr := map[string]string{}
		for _, a := range e.Attr {
			attr[a.Name.Local] = a.Value
			if strings.HasPrefix(a.Name.Local, "on") || a.Name.Local == "src" || strings.Contains(a.Value, "://") && a.Name.Local != "xmlns" && a.Name.Local != "xlink" {
				t.Errorf("<%s %s=%q> could run or fetch something", e.Name.Local, a.Name.Local, a.Value)
			}
		}
		if id, ok := attr["id"]; ok {
			if ids[id] {
				t.Errorf("id %q twice", id)
			}
			ids[id] = true
		}
		labels = append(labels, strings.Fields(attr["aria-labelledby"])...)
		if h := attr["href"]; strings.HasPrefix(h, "#") {
			labels = append(labels, h[1:])
		}
		switch name := e.Name.Local; name {
		case "script", "link", "iframe", "img", "object", "embed":
			t.Errorf("<%s> on the page", name)
		case "title":
			titles++
		case "th":
			if attr["scope"] == "" {
				t.Error("a header cell without scope")
			}
		case "svg":
			if attr["role"] != "img" || attr["aria-labelledby"] == "" {
				t.Error("a picture without a name")
			}
		case "h1", "h2", "h3", "h4":
			n := int(name[1] - '0')
			if n > level+1 {
				t.Errorf("<%s> follows a heading of level %d", name, level)
			}
			level = n
		}
	}
	for _, l := range labels {
		if !ids[l] {
			t.Errorf("nothing has the id %q", l)
		}
	}
	if titles < 1 {
		t.Error("the page has no title")
	}
}

func TestHTML(t *testing.T) {
	b := newBench(t)
	var out bytes.Buffer
	if err := b.sheet(t, plain, grown(), sheet.Options{}).HTML(&out); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, out.String())
	for _, want := range []string{"Content-Security-Policy", "Cut the slice for layer 1", "Force on the bar over time", "Full-size templates"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q on the page", want)
		}
	}
}

// chromium runs the browser without a window.
func chromium(t *testing.T, args ...string) {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("the page is not opened in a browser: chromium is not installed")
	}
	// Its own helpers may write here a little longer than it lives, so a folder
	// that can't be removed at once is left to the system.
	profile, err := os.MkdirTemp("", "mallow-browser-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(profile) })
	fixed := []string{"--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
		"--disable-component-update", "--disable-sync", "--user-data-dir=" + profile}
	if out, err := exec.Command(path, append(fixed, args...)...).CombinedOutput(); err != nil {
		t.Fatalf("chromium %s: %v\n%s", strings.Join(args, " "), err, out)
	}
}

var (
	pageObject = regexp.MustCompile(`/Type\s*/Page\b[^s]`)
	mediaBox   = regexp.MustCompile(`/MediaBox\s*\[\s*0 0 ([0-9.]+) ([0-9.]+)\s*\]`)
)

// In a browser: a screenshot that is no blank, and PDFs on A4 and US Letter on
// which the templates and the safety page have pages to themselves.
func TestHTMLInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("no browser in a short run")
	}
	b := newBench(t)
	var out bytes.Buffer
	if err := b.sheet(t, plain, grown(), sheet.Options{}).HTML(&out); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	write := func(name, html string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(html), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	whole := out.String()
	shot := filepath.Join(dir, "shot.png")
	chromium(t, "--window-size=900,1200", "--hide-scrollbars", "--screenshot="+shot, "file://"+write("page.html", whole))
	checkShot(t, shot)

	pages := func(name, html, size string) int {
		html = strings.Replace(html, "</style>", "@page { size: "+size+" }</style>", 1)
		pdf := filepath.Join(dir, name+".pdf")
		chromium(t, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+write(name+".html", html))
		data, err := os.ReadFile(pdf)
		if err != nil {
			t.Fatal(err)
		}
		m := mediaBox.FindSubmatch(data)
		if m == nil {
			t.Fatalf("%s: no page size in the PDF", name)
		}
		var w float64
		fmt.Sscan(string(m[1]), &w)
		if want := map[string]float64{"A4": 210 / 25.4 * 72, "letter": 8.5 * 72}[size]; math.Abs(w-want) > 1 {
			t.Errorf("%s: pages %.1f pt wide, want %.1f", name, w, want)
		}
		return len(pageObject.FindAll(data, -1))
	}
	pages("all-a4", whole, "A4")
	checkPrintScale(t, filepath.Join(dir, "all-a4.pdf"))
	// A pair takes at most four pages on either paper, whatever its core and up
	// to two layers, and none of them is half empty. Without MALLOW_LONG set, one
	// head is printed on each.
	const most = 4
	long := os.Getenv("MALLOW_LONG") != ""
	for i, text := range []string{
		plain, "rubber-50a-1-1/8 + wool-medium + birch-16",
		"poly-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", "poly-1-drilled + birch-14",
	} {
		out.Reset()
		if err := b.sheet(t, text, grown(), sheet.Options{}).HTML(&out); err != nil {
			t.Fatal(err)
		}
		for k, size := range []string{"A4", "letter"} {
			if !long && i != 2*(1-k) {
				continue
			}
			if n := pages(fmt.Sprintf("%d-%s", i, size), out.String(), size); n > most {
				t.Errorf("%s on %s: %d pages, want at most %d", text, size, n, most)
			}
			checkFull(t, filepath.Join(dir, fmt.Sprintf("%d-%s.pdf", i, size)))
		}
	}
}

// Thirty students with a dozen different heads take at most forty pages, with
// the steps said once.
func TestClassInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("no browser in a short run")
	}
	b := newBench(t)
	var list []sheet.Entry
	for i := range 30 {
		text := fmt.Sprintf("poly-1-1/8-drilled + 3/4x1/8 + wool-medium*%d + birch-16", 120+5*(i%12))
		list = append(list, sheet.Entry{Candidate: b.consider(t, text, grown()), Options: sheet.Options{For: fmt.Sprintf("Student %d", i+1), Heads: 2}})
	}
	bundle, err := b.Maker.Class("A class", list, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := bundle.HTML(&out); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, out.String())
	if n := strings.Count(out.String(), "Pull on layer 1</h3>"); n != 1 {
		t.Errorf("a step stands %d times", n)
	}
	dir := t.TempDir()
	path, pdf := filepath.Join(dir, "class.html"), filepath.Join(dir, "class.pdf")
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	chromium(t, "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+path)
	data, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(pageObject.FindAll(data, -1)); n < 20 || n > 40 {
		t.Errorf("%d pages for 30 students and 12 heads, want at most 40", n)
	}
}

// A step, its cautions aside, is at most sixty words with its check, what to
// do if it is not met, and how to undo it; the card before the steps fits
// three screens of 24 lines of 80 columns.
func TestSheetIsShort(t *testing.T) {
	b := newBench(t)
	for _, text := range []string{plain, "rubber-50a-1-1/8 + wool-medium + birch-16", "poly-1-1/8 + 3/4x1/8 + 1x1/8 + 1-1/4x1/8 + wool-medium + birch-16", "poly-1-1/8-drilled + silicone-3/4x1/8 + wool-medium + birch-16"} {
		for _, f := range []facts.Facts{grown(), minor()} {
			s := b.sheet(t, text, f, sheet.Options{})
			for _, x := range s.Steps {
				if n := len(strings.Fields(x.Text + " " + x.Check + " " + x.IfOff + " " + x.Undo)); n > 60 {
					t.Errorf("%s: step %s has %d words", text, x.ID, n)
				}
			}
			var out strings.Builder
			if err := s.Text(&out, page.Style{Width: 80}); err != nil {
				t.Fatal(err)
			}
			card, _, ok := strings.Cut(out.String(), "\nSteps\n")
			if n := strings.Count(card, "\n"); !ok || n > 3*24 {
				t.Errorf("%s: the card has %d lines", text, n)
			}
		}
	}
}

// Each caution stands whole once at its first step, once on the safety page,
// and else is named in a line.
func TestCautionsStandWholeOnce(t *testing.T) {
	b := newBench(t)
	s := b.sheet(t, "poly-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", grown(), sheet.Options{})
	var out strings.Builder
	if err := s.Text(&out, page.Style{Width: 80}); err != nil {
		t.Fatal(err)
	}
	flat := strings.Join(strings.Fields(out.String()), " ")
	for _, c := range s.Safety.Cautions {
		whole := strings.Join(strings.Fields(c.Hazard+" "+c.Do+" "+c.Defer), " ")
		if n := strings.Count(flat, whole); n != 2 {
			t.Errorf("%s stands whole %d times, want at its step and on the safety page", c.ID, n)
		}
	}
	for _, x := range s.Steps {
		for _, c := range x.Cautions {
			if c.First != x.Number && !strings.Contains(x.Again(), c.Name) {
				t.Errorf("step %d does not name its caution %s", x.Number, c.ID)
			}
		}
	}
}

// Any stack of catalogue parts gets a sheet for an adult without a wish: no
// text left unfilled, every rendering written.
func TestAnyStack(t *testing.T) {
	b := newBench(t)
	cat := b.Catalogue()
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.SampledFrom(cat.Cores).Draw(r, "core").ID
		for range rapid.IntRange(0, 3).Draw(r, "layers") {
			text += " + " + rapid.SampledFrom(cat.Tubing).Draw(r, "tube").ID
		}
		if rapid.Bool().Draw(r, "wrapped") {
			text += " + " + rapid.SampledFrom(cat.Yarns).Draw(r, "yarn").ID
		}
		if rapid.Bool().Draw(r, "mounted") {
			text += " + " + rapid.SampledFrom(cat.Shafts).Draw(r, "shaft").ID
		}
		st, err := head.Parse(cat, text)
		if err != nil {
			r.Skip(err)
		}
		c, err := b.Consider(st, asked(grown()))
		if err != nil {
			r.Skip(err) // a stroke out of the model's range
		}
		s, err := b.Sheet(c, sheet.Options{})
		if err != nil {
			r.Fatalf("%s: %v", text, err)
		}
		for _, x := range s.Steps {
			if all := x.Title + x.Text + x.Check + x.IfOff + x.Undo; strings.ContainsAny(all, "{}?") || strings.Contains(all, "NaN") {
				r.Fatalf("%s: step %s has an unfilled text: %q", text, x.ID, all)
			}
		}
		if err := errors.Join(s.HTML(io.Discard), s.Markdown(io.Discard), s.JSON(io.Discard), s.Text(io.Discard, page.Style{Width: 60})); err != nil {
			r.Fatalf("%s: %v", text, err)
		}
	})
}

// Text keeps to any width of a terminal, drawn or plain.
func TestTextKeepsToTheWidth(t *testing.T) {
	b := newBench(t)
	s := b.sheet(t, "poly-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", grown(), sheet.Options{Heads: 4})
	for _, width := range []int{40, 60, 80, 100, 200} {
		for _, plain := range []bool{false, true} {
			var out strings.Builder
			if err := s.Text(&out, page.Style{Width: width, Plain: plain}); err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(out.String()) {
				if n := len([]rune(strings.TrimRight(line, "\n"))); n > width {
					t.Errorf("width %d, plain %v: a line of %d: %q", width, plain, n, line)
				}
				if plain && strings.ContainsAny(line, "│─┌~|") {
					t.Errorf("width %d: a drawing in plain text: %q", width, line)
				}
			}
		}
	}
}

func TestSet(t *testing.T) {
	b := newBench(t)
	var set []sheet.Entry
	var makes []propose.Make
	for _, text := range []string{
		"poly-1-1/8 + wool-medium*120 + birch-16", plain, "poly-1-1/8 + 3/4x1/8@1 + 1x1/8 + wool-medium*140 + birch-16",
	} {
		c := b.consider(t, text, grown())
		set = append(set, sheet.Entry{Candidate: c})
		makes = append(makes, propose.Make{Head: c.Head, Heads: 2})
	}
	order, err := b.Order(makes, asked(grown()))
	if err != nil {
		t.Fatal(err)
	}
	bundle, err := b.Maker.Set("Three grades", set, &order)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < len(bundle.Rows); i++ {
		if bundle.Rows[i].Softness <= bundle.Rows[i-1].Softness {
			t.Errorf("row %d is no softer than the one before", i+1)
		}
	}
	var out bytes.Buffer
	if err := bundle.HTML(&out); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, out.String())
	for _, want := range []string{"Softness through the set", "Mass through the set", "Diameter through the set", `href="#s3-top"`, "Shopping list"} {
		if n := strings.Count(out.String(), want); n == 0 {
			t.Errorf("no %q in the page of a set", want)
		}
	}
	// One length of tubing serves both heads with the first layer.
	i := slices.IndexFunc(bundle.Buy.Rows, func(p sheet.Purchase) bool { return p.Part == "latex-3/4x1/8" })
	if i < 0 || bundle.Buy.Lines[i].Packs != 1 {
		t.Errorf("shared tubing: %+v", bundle.Buy.Lines)
	}

	set[1].Candidate.Pass = set[1].Candidate.Pass.But(gate.LatexOK, false)
	set[1].Options.For = "Kim"
	rest, err := b.Maker.Class("A class", set, nil)
	if !errors.Is(err, sheet.ErrLatex) || !strings.Contains(err.Error(), "Kim") {
		t.Errorf("a sheet that can't be made: %v, want it to name Kim", err)
	}
	if len(rest.Sheets) != 2 || len(rest.Rows) != 2 {
		t.Errorf("%d sheets are kept of the other two", len(rest.Sheets))
	}
}
