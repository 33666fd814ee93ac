package assistant

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts/factstest"
)

// places are where a person asks: what is said to get there, and the step of
// the build.
var places = map[string]struct{ say, step string }{
	"choosing":  {"", ""},
	"head":      {"marimba, two mallets, medium, all adults, latex is fine, no solvents", ""},
	"bells":     {"bells, two mallets, medium, all adults, no latex, no solvents", ""},
	"pulling":   {"marimba, two mallets, medium, all adults, latex is fine, no solvents", "pull-slice"},
	"gluing":    {"marimba, two mallets, medium, all adults, latex is fine, no solvents", "shaft"},
	"winding":   {"marimba, two mallets, medium, all adults, latex is fine, no solvents", "wrap-first"},
	"bare ball": {"bells, two mallets, medium, all adults, no latex, no solvents", "glue-shaft"},
}

func TestQuestions(t *testing.T) {
	k, err := NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	bases := map[string]*Session{}
	for name, p := range places {
		s := NewSession(k)
		if p.say != "" {
			s.Say(p.say)
			for i := 0; s.now.stage != proposed && i < 30; i++ {
				s.Say("")
			}
		}
		if p.step != "" {
			s.Say("build")
			for i := 0; s.now.bench == nil || !strings.Contains(s.now.bench.At(), p.step); i++ {
				if i > 90 {
					t.Fatalf("%s: %s not reached", name, p.step)
				}
				s.Say("")
			}
		}
		bases[name] = s
	}
	for _, file := range strings.Fields(os.Getenv("Q")) {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var list []struct {
			N                  int
			Who, At, Ask, Good string
			Finds              []string
		}
		if err := yaml.Unmarshal(b, &list); err != nil {
			t.Fatal(err)
		}
		for _, q := range list {
			base := bases[q.At]
			s := *base
			s.now = base.now.clone()
			of, how := curious{&s}.nearest(q.Ask)
			r := s.Say(q.Ask)
			fmt.Printf("%d [%s] %s\n   GOOD: %s\n   TOLD: %s\n%s\n", q.N, q.At, q.Ask, fmt.Sprintf("%s %.2f", of.ID, how), r.Told, hear(t, r))
		}
	}
}
