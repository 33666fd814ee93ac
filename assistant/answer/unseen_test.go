package answer

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/knowledgetest"
)

// authors are the files of questions in testdata by who wrote them.
var authors = [][]string{
	{"open.yaml", "measured.yaml"},
	{"others.yaml"},
	{"fifth.yaml", "fifth-even.yaml"},
	{"eighth.yaml", "eighth-even.yaml"},
}

// places are where these questions are asked, as answers name it.
var places = map[string][]string{
	"choosing": {"choosing"}, "head": {"head"}, "bells": {"head"}, "class": {"head"}, "pulling": {"bench", "pull-slice"},
	"gluing": {"bench", "shaft"}, "winding": {"bench", "wrap-first"}, "bare ball": {"bench", "glue-shaft"},
}

type question struct {
	At, Ask string
	Finds   []string
}

// An author's questions find their answers by ways to ask that have nothing of
// that author's: all that share four words in ten with one of his questions are
// left out. Answers that speak of one thing count as one. What is near enough
// to be told without doubt is seldom wrong, though often nothing is.
func TestUnseen(t *testing.T) {
	const leastRight, mostWrong = 300, 60 // of 442, where 258 and 57 were by words alone
	right, wrong, all := 0, 0, 0
	for _, files := range authors {
		list := questions(t, files)
		cat := *knowledgetest.Catalogue(t)
		cat.Answers, cat.Troubles = slices.Clone(cat.Answers), slices.Clone(cat.Troubles)
		var said [][]string
		for _, q := range list {
			said = append(said, stems(q.Ask))
		}
		his := func(ask string) bool {
			words := stems(ask)
			return slices.ContainsFunc(said, func(q []string) bool { return shared(words, q) >= 0.4 })
		}
		left := map[string]bool{} // with ways to ask
		for i, x := range cat.Answers {
			cat.Answers[i].Asks = slices.DeleteFunc(slices.Clone(x.Asks), his)
			left[x.ID] = len(cat.Answers[i].Asks) > 1
		}
		for i, x := range cat.Troubles {
			cat.Troubles[i].Asks = slices.DeleteFunc(slices.Clone(x.Asks), his)
			left[x.ID] = true
		}
		a, err := New(&cat)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range list {
			if !slices.ContainsFunc(q.Finds, func(id string) bool { return left[id] }) {
				continue
			}
			all++
			of, how := a.Nearest(q.Ask, places[q.At]...)
			switch {
			case how < NearLikely:
				t.Logf("%q finds nothing (%s, %.2f), want %v", q.Ask, of.ID, how, q.Finds)
			case slices.ContainsFunc(q.Finds, func(id string) bool { return id == of.ID || a.near().together(id, of.ID) }):
				right++
			default:
				wrong++
				t.Logf("%q finds %s, %.2f, want %v", q.Ask, of.ID, how, q.Finds)
			}
		}
	}
	t.Logf("of %d: %d right, %d wrong", all, right, wrong)
	if right < leastRight || wrong > mostWrong {
		t.Errorf("of %d: %d right and %d wrong, want at least %d and at most %d", all, right, wrong, leastRight, mostWrong)
	}
}

// questions reads files of questions.
func questions(t *testing.T, files []string) (list []question) {
	for _, file := range files {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "questions", file))
		if err != nil {
			t.Fatal(err)
		}
		var more []question
		if err := yaml.Unmarshal(b, &more); err != nil {
			t.Fatal(err)
		}
		list = append(list, more...)
	}
	return list
}

// stems are the words of a line, once each.
func stems(line string) (list []string) {
	for _, w := range strings.Fields(bare(Plain(line))) {
		list = append(list, stem(w))
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// shared is the share of the words of either line that both have.
func shared(a, b []string) float64 {
	both := 0
	for _, w := range a {
		if slices.Contains(b, w) {
			both++
		}
	}
	return float64(both) / float64(max(1, len(a)+len(b)-both))
}
