package assistant

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts/factstest"
)

// onMarimba and onBells are what people have said before they ask.
const (
	onMarimba = "marimba, two mallets, medium, all adults, latex is fine, no solvents"
	onClass   = "I teach a class of 24 twelve year olds, xylophone, medium, latex must be avoided, I will be there"
	onBells   = "bells, two mallets, medium, all adults, no latex, no solvents"
)

// places are where people ask: what they said to get there, and at which step
// of the build they are.
var places = map[string]struct{ said, step string }{
	"choosing":  {"", ""},
	"head":      {onMarimba, ""},
	"bells":     {onBells, ""},
	"class":     {onClass, ""},
	"pulling":   {onMarimba, "pull-slice"},
	"gluing":    {onMarimba, "shaft"},
	"winding":   {onMarimba, "wrap-first"},
	"bare ball": {onBells, "glue-shaft"},
}

// at returns a conversation that has come to a place.
func at(t *testing.T, k *Kit, place string) *Session {
	p, ok := places[place]
	if !ok {
		t.Fatalf("no place %q", place)
	}
	s := NewSession(k)
	if p.said == "" {
		return s
	}
	s.Say(p.said)
	finish(t, s)
	if p.step == "" {
		return s
	}
	s.Say("build")
	for range 90 {
		if s.now.bench != nil && strings.Contains(s.now.bench.At(), p.step) {
			return s
		}
		s.Say("")
	}
	t.Fatalf("%s: step %s not reached", place, p.step)
	return nil
}

// On a bare ball no trouble is looked for in slices or yarn.
func TestTroublesOfBareBall(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	s := at(t, k, "bare ball")
	for _, tt := range []struct{ line, want, not string }{
		{"its too heavy", "lighter one of the bag", "slices"},
		{"the slice tore", "no slice on this head", "blade"},
		{"the yarn has gone hard", "no yarn on this head", "felted"},
		{"it rattles", "wag the shaft", "belt"},
		{"no", "Strike the same bar", "squeeze the belt"},
	} {
		if said := hear(t, s.Say(tt.line)); !strings.Contains(said, tt.want) || strings.Contains(said, tt.not) {
			t.Errorf("%q: want %q and not %q in:\n%s", tt.line, tt.want, tt.not, said)
		}
	}
}

// Questions find their answers where they are asked; a wrong one is worse than
// none. Replies fit a screen.
func TestQuestions(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	start := map[string]*Session{}
	for place := range places {
		start[place] = at(t, k, place)
	}
	for _, tt := range []struct {
		file         string
		least, wrong int // questions that find an answer, at least; that find another, at most
	}{
		{"open.yaml", 80, 0},
		{"measured.yaml", 80, 0},
		{"others.yaml", 52, 0},
		{"fifth.yaml", 60, 0},
		{"fifth-even.yaml", 60, 0},
		{"eighth.yaml", 60, 0},
		{"eighth-even.yaml", 59, 0},
		{"ninth.yaml", 49, 0},
		{"ninth-even.yaml", 49, 0},
	} {
		t.Run(tt.file, func(t *testing.T) {
			b, err := os.ReadFile(filepath.Join("..", "testdata", "questions", tt.file))
			if err != nil {
				t.Fatal(err)
			}
			var list []struct {
				N      int
				At     string
				Before []string // said there first
				Ask    string
				Finds  []string
			}
			if err := yaml.Unmarshal(b, &list); err != nil {
				t.Fatal(err)
			}
			found, wrong := 0, 0
			for _, q := range list {
				s := *start[q.At]
				s.now = s.now.clone()
				for _, line := range q.Before {
					s.Say(line)
				}
				r := s.Say(q.Ask)
				switch {
				case slices.Contains(q.Finds, r.Told):
					found++
				case r.Told != "":
					wrong++
					t.Logf("%d, at %s: %q finds %s, want %v", q.N, q.At, q.Ask, r.Told, q.Finds)
				default:
					t.Logf("%d, at %s: %q finds nothing, want %v", q.N, q.At, q.Ask, q.Finds)
				}
				if n := strings.Count(hear(t, r), "\n"); n > 23 {
					t.Errorf("%d, at %s: %q: %d lines", q.N, q.At, q.Ask, n)
				}
			}
			t.Logf("%d of %d found, %d find another", found, len(list), wrong)
			if found < tt.least || wrong > tt.wrong {
				t.Errorf("%d found and %d another, want at least %d and at most %d", found, wrong, tt.least, tt.wrong)
			}
		})
	}
}
