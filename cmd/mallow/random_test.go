package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

// many is how often a random test is held: as the environment says, or else.
func many(t *testing.T, name string, otherwise int) int {
	t.Helper()
	n, err := strconv.Atoi(os.Getenv(name))
	if err != nil {
		return otherwise
	}
	return n
}

// commandLine makes up a command line that mostly parses.
type commandLine struct{ *rand.Rand }

func (r commandLine) pick(list ...string) string { return list[r.IntN(len(list))] }

// mostly picks one of the first, and rarely the slip.
func (r commandLine) mostly(slip string, list ...string) string {
	if r.IntN(25) == 0 {
		return slip
	}
	return r.pick(list...)
}

// stack is mostly one that can be built.
func (r commandLine) stack() string {
	layers := []string{r.pick("poly-1", "poly-1-1/8", "maple-1-1/8", "poly-1-1/8-drilled", "rubber-50a-1-1/8", "acetal-1-drilled", "brass-5/8")}
	for range r.IntN(4) {
		layer := r.pick("3/4x1/8", "latex-3/4x1/8", "silicone-3/4x1/8", "1x1/8", "tpe-3/4x1/8", "epdm-3/4x1/8", "5/8x1/16")
		layers = append(layers, layer+r.mostly(r.pick("@0", "@99"), "", "", "@1", "@0.75in", "@20mm"))
	}
	if r.IntN(5) > 0 {
		layers = append(layers, r.pick("wool-medium", "acrylic-medium", "nylon-cord", "wool-fine")+r.mostly(r.pick("*0", "*9999"), "", "*120", "*80@4N"))
	}
	if r.IntN(3) > 0 {
		layers = append(layers, r.pick("birch-16", "birch-15", "rattan-16-thick", "fibreglass-15"))
	}
	text := strings.Join(layers, r.mostly(" ++ ", " + ", "+"))
	if r.IntN(25) == 0 { // a slip of the finger
		i := r.IntN(len(text))
		text = text[:i] + r.pick("", "x", " ", "\x1b", "½", "+") + text[i+1:]
	}
	return text
}

func (r commandLine) want() string {
	parts := []string{r.mostly("timpani", "marimba", "vibes", "xylophone", "bells"), r.mostly("0 mallets", "two mallets", "four mallets in a cross grip"), r.mostly("-99 notches", "soft", "hard", "medium", "very soft", "3 notches softer"),
		r.pick("dark", "bright", "at most 20 g", "under 30 mm", "cheap", "I am 12", "no latex", "adults, latex is fine", "my son has asthma")}
	r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
	return strings.Join(parts[:1+r.IntN(len(parts))], ", ")
}

// line is a command line with its arguments; slow ones are rare.
func (r commandLine) line(dir string) []string {
	var args []string
	switch n := r.IntN(40); {
	case n < 10:
		args = []string{"head", r.stack()}
		if r.IntN(2) == 0 {
			args = append(args, "--instrument", r.mostly("kazoo", "marimba-5", "vibraphone", "bells"))
		}
	case n < 14:
		args = []string{"sheet", r.stack(), "--want", r.want(), "--heads", r.mostly(r.pick("0", "many", "-1"), "1", "2", "4", "400")}
	case n < 18:
		args = []string{"compare"}
		for range 1 + r.IntN(5) {
			args = append(args, r.stack())
		}
	case n < 22:
		args = []string{"pair"}
		for range 2 + r.IntN(9) {
			args = append(args, r.mostly(r.pick("0 g", "-3g", "NaN g", "28 mm"), "14.2g", "13.9 g", "14.6g", "14.1 g"))
		}
		args = append(args, "--of", r.mostly("0", "2", "4"))
	case n < 25:
		args = []string{"parts", r.mostly("nothing", "tubing", "cores", "wool-medium", "latex-3/4x1/8")}
	case n < 28:
		args = []string{"rules", r.pick("list", "facts")}
	case n < 31:
		args = []string{"read", r.want() + r.mostly(r.pick(" \x1b[2J", "\xff"), "", ". why?")}
	case n < 34:
		args = []string{"shelf", r.mostly("take", "add"), r.mostly(r.pick("a yacht", ""), "40 plastic balls 1 1/8", "3 ft of 3/4 by 1/8 latex", "200 g of medium wool")}
	case n < 36:
		args = []string{"built", r.stack(), "--mass", r.mostly(r.pick("0", "a lot", "1e300 g"), "22 g", "22.8g"), "--diameter", r.mostly("38.4 in", "37 mm")}
	case n < 37:
		args = []string{"sheet", "--want", r.want()}
	case n < 38:
		args = []string{"change", r.stack(), "--want", r.mostly(r.pick("a yacht", ""), "softer", "lighter, not softer", "no latex")}
	case n < 39:
		args = []string{"match", "--diameter", r.pick("37 mm", "0 mm", "1 m"), "--mass", r.pick("21 g", "-1 g", "1 t")}
	default:
		args = []string{"hear", r.stack(), "--out", filepath.Join(dir, "a.wav"), "--phrase", r.pick("strokes", "line", "noise"), "--force"}
	}
	switch r.IntN(24) {
	case 0, 1, 2:
		args = append(args, "--plain")
	case 3, 4:
		args = append(args, "--no-shelf")
	case 5:
		args = append(args, r.pick("--htlm", "--", "-x", "--json=maybe", "--parts", "--for"))
	case 6:
		args = append(args, "--html", filepath.Join(dir, r.pick("a.html", "none/a.html", ".")))
	}
	if r.IntN(3) == 0 {
		args = append(args, "--json")
	}
	return args
}

// spent is the processor time that this process has taken so far.
func spent(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// Whole command lines, made up so that they mostly parse: every one ends with an
// exit code of the manual page, says what is wrong in lines that start with the
// program's name and steer no terminal, and gives JSON that is JSON.
//
// MALLOW_COMMANDS sets how many are run (.ci/run runs 300), MALLOW_SEED the number of the first.
func TestRandomCommands(t *testing.T) {
	n := 120
	if testing.Short() {
		n = 60
	}
	first := many(t, "MALLOW_SEED", 1)
	dir, top, theirs := t.TempDir(), t.TempDir(), ""
	codes := map[int]int{}
	took := map[string][]time.Duration{} // by command
	for seed := first; seed < first+many(t, "MALLOW_COMMANDS", n); seed++ {
		if (seed-first)%100 == 0 { // a shelf and a record as people have them, not of thousands of entries
			theirs = filepath.Join(top, fmt.Sprint(seed))
		}
		args := commandLine{rand.New(rand.NewPCG(uint64(seed), 3))}.line(dir)
		var out, errs bytes.Buffer
		began := spent(t)
		code := run(context.Background(), args, printing(theirs, &out, &errs))
		took[args[0]] = append(took[args[0]], spent(t)-began)
		codes[code]++
		fail := func(format string, more ...any) {
			t.Errorf("seed %d: %q: %s", seed, args, fmt.Sprintf(format, more...))
		}
		if code < exitDone || code > exitNothingFits {
			fail("exit code %d", code)
		}
		if code != exitDone && errs.Len() == 0 && (code != exitNothingFits || out.Len() == 0) { // why nothing fits may be the answer itself
			fail("exit code %d without a word", code)
		}
		for line := range strings.Lines(errs.String()) {
			if !strings.HasPrefix(line, "mallow: ") || len(line) > 2000 || strings.Contains(line, "%!") || strings.Contains(line, "goroutine ") {
				fail("on standard error: %.300q", line)
			}
		}
		for _, text := range []string{out.String(), errs.String()} {
			if i := strings.IndexFunc(text, func(c rune) bool { return c != '\n' && unicode.IsControl(c) }); i >= 0 || !utf8.ValidString(text) {
				fail("raw bytes: %.60q", text[max(i, 0):])
			}
		}
		if asked := slices.Contains(args, "--json"); asked && code == exitDone && !json.Valid(out.Bytes()) {
			fail("no JSON: %.200s", out.String())
		}
	}
	t.Logf("by exit code: %v", codes)
	for _, name := range slices.Sorted(maps.Keys(took)) {
		d := took[name]
		slices.Sort(d)
		all := time.Duration(0)
		for _, x := range d {
			all += x
		}
		t.Logf("%-8s %5d runs, median %v, 9 of 10 in %v, longest %v, %v in all", name, len(d), d[len(d)/2].Round(time.Millisecond),
			d[len(d)*9/10].Round(time.Millisecond), d[len(d)-1].Round(time.Millisecond), all.Round(time.Second/10))
	}
	if len(codes) < 3 || codes[exitDone] < n/4 {
		t.Errorf("too little was put to the test: %v", codes)
	}
}

// Doors with a wording of harm at random, in the midst of a wish at random: what
// may hurt is in no answer.
//
// MALLOW_DOORS sets how many are tried, MALLOW_SEED the number of the first.
func TestRandomDoors(t *testing.T) {
	t.Parallel()
	n := 24
	if testing.Short() {
		n = 8
	}
	harms := []struct {
		says         string
		latex, cured bool // may be in the answer
		young        bool
	}{
		{"I am allergic to latex", false, true, false}, {"balloons make me swell", false, true, false}, {"must be latex free", false, true, false},
		{"my hands itch from those gloves", false, false, false}, {"I have a rash from rubber", false, false, false}, {"welts from rubber", false, false, false},
		{"I am 12, an adult is with me", false, true, true}, {"we are in sixth grade", false, true, true}, {"for my son, latex is fine", true, true, true},
		{"my daughter is 9 and balloons give her hives", false, true, true}, {"a pupil reacts to latex", false, true, true},
	}
	first := many(t, "MALLOW_SEED", 1)
	for seed := first; seed < first+many(t, "MALLOW_DOORS", n); seed++ {
		r := commandLine{rand.New(rand.NewPCG(uint64(seed), 5))}
		h := harms[r.IntN(len(harms))]
		wish := []string{r.pick("marimba", "vibes", "marimba, low end"), r.pick("two mallets", "four mallets in a cross grip"), r.pick("soft", "medium", "hard", "dark")}
		at := r.IntN(len(wish) + 1)
		want := strings.Join(slices.Insert(wish, at, h.says), ", ")
		var args []string
		switch r.IntN(5) {
		case 0, 1:
			args = []string{"sheet", "--want", want}
		case 2:
			args = []string{"change", "maple-1-1/8 + silicone-3/4x1/8 + wool-medium + birch-16", "--want", "softer, " + h.says}
		case 3:
			args = []string{"advise", "--have", "four 1 1/8 maple balls, 3 feet of 3/4 by 1/8 latex, 3 feet of 3/4 by 1/8 silicone, 100 g of medium wool, four birch dowels", "--want", want}
		default:
			roster := filepath.Join(t.TempDir(), "class.yaml")
			if err := os.WriteFile(roster, []byte("facts: {player.latex_ok: true}\nstudents:\n  - {name: A, want: \""+want+"\"}\n  - {name: B, want: medium, age: 30}\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			args = []string{"class", roster}
		}
		code, out, errs := mallow(t, append(args, "--json")...)
		if code != exitDone && code != exitNothingFits {
			t.Errorf("seed %d: %q: exit code %d: %s", seed, args, code, errs)
			continue
		}
		if args[0] == "class" { // only the first is spoken of
			var v struct {
				Students []struct {
					Stack   string
					Minor   bool
					NoLatex bool `json:"no_latex"`
				}
			}
			if err := json.Unmarshal([]byte(out), &v); err != nil || len(v.Students) != 2 {
				t.Errorf("seed %d: %q: %v, %d students", seed, args, err, len(v.Students))
				continue
			}
			out = v.Students[0].Stack
			if h.young && !v.Students[0].Minor {
				t.Errorf("seed %d: %q: taken as of age", seed, args)
			}
			if !strings.Contains(h.says, "latex is fine") && !h.young && !v.Students[0].NoLatex {
				t.Errorf("seed %d: %q: latex is not ruled out", seed, args)
			}
			if h.young && !strings.Contains(h.says, "hives") && !strings.Contains(h.says, "reacts") {
				continue // the class has said that latex is fine
			}
		}
		if found := latexPart.FindString(proposed(out)); found != "" && !h.latex {
			t.Errorf("seed %d: %q: it offers %s…", seed, args, found)
		}
		if found := curedPart.FindString(proposed(out)); found != "" && !h.cured {
			t.Errorf("seed %d: %q: it offers %s…", seed, args, found)
		}
		if strings.Contains(out, `"glue-slice-solvent"`) || strings.Contains(out, `"solvent-vapour"`) {
			t.Errorf("seed %d: %q: a solvent nobody allowed", seed, args)
		}
		if h.young && strings.Contains(out, `"id": "cut-slice"`) && !strings.Contains(out, `"id": "adult"`) {
			t.Errorf("seed %d: %q: a blade without the caution for the young", seed, args)
		}
	}
}
