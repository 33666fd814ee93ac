// Lines prints the lines of corpora as the second reader is shown them: a line of
// JSON each, with the words, what the word list knows of them, what was asked and
// what a clerk would note, and what the reader took of them, with whether that is right. Phrases of the word list and the answers that mallow
// offers come first. Run it from the top of the project:
//
//	go run ./testdata/hunch/lines testdata/reading/*.yaml assistant/understand/testdata/utterances/*.txt
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/assistant/understand"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/readingtest"
	"mallow/assistant/understand/shift"
	"mallow/knowledge"
)

// line is a line of a corpus.
type line struct {
	File   string          `json:"file" yaml:"-"`
	ID     string          `json:"id" yaml:"id"`
	Say    string          `json:"say" yaml:"say"`
	Asked  string          `json:"asked" yaml:"asked"`
	Before []string        `json:"before,omitempty" yaml:"before"`
	Kind   string          `json:"kind" yaml:"kind"`
	Expect map[string]any  `json:"expect" yaml:"expect"`
	MayAsk []string        `json:"may_ask,omitempty" yaml:"may_ask"`
	Not    []string        `json:"must_not,omitempty" yaml:"must_not"`
	Words  []hunch.Word    `json:"words" yaml:"-"`
	Took   []answer        `json:"took,omitempty" yaml:"-"`
	Heard  []reading.Heard `json:"heard,omitempty" yaml:"-"`
}

// answer is one thing that the reader took of a line by itself.
type answer struct {
	hunch.Shown
	Of    string `json:"of"`
	Right bool   `json:"right"`
}

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(files []string) error {
	cat, err := knowledge.Default()
	if err != nil {
		return err
	}
	words, err := lexis.New(cat)
	if err != nil {
		return err
	}
	reader, err := understand.First(cat)
	if err != nil {
		return err
	}
	out := json.NewEncoder(os.Stdout)
	show := func(l line, rec *readingtest.Record) error {
		if clean, refused := lexis.Tidy(l.Say); refused == "" {
			c := cover.New(words, clean, l.Asked)
			shift.Mark(c)
			limit.Mark(c)
			l.Words = hunch.Words(c)
			switch {
			case rec != nil:
				l.Took, l.Heard = took(reader, *rec, cat, l.Words, clean)
			default:
				l.Took, l.Heard = heard(reader, l, l.Words, clean)
			}
		}
		return out.Encode(l)
	}
	for _, l := range slices.Concat(offered(cat), listed(cat)) {
		if err := show(l, nil); err != nil {
			return err
		}
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			return err
		}
		var list []line
		if strings.HasSuffix(f, ".txt") {
			list = uttered(string(data))
		} else if err := yaml.Unmarshal(data, &list); err != nil {
			return fmt.Errorf("%s: %w", f, err)
		}
		var records []readingtest.Record
		if len(list) > 0 && list[0].ID != "" {
			if err := yaml.Unmarshal(data, &records); err != nil {
				return fmt.Errorf("%s: %w", f, err)
			}
		}
		for i, l := range list {
			l.File = f[strings.LastIndexByte(f, '/')+1:]
			var rec *readingtest.Record
			if records != nil {
				rec = &records[i]
			}
			if err := show(l, rec); err != nil {
				return fmt.Errorf("%s: %s: %w", f, l.ID, err)
			}
		}
	}
	return nil
}

// took lists what the reader takes of a line of words, as the second opinion is shown it.
func took(r *understand.Reader, rec readingtest.Record, cat *knowledge.Catalogue, words []hunch.Word, line string) (out []answer, made []reading.Heard) {
	var before reading.Reading
	for _, s := range rec.Before {
		before = before.Then(r.Read(s, understand.Context{Before: before}))
	}
	got := r.Read(rec.Say, understand.Context{Asked: rec.Asked, Before: before})
	for _, a := range got.Weighed {
		out = append(out, answer{hunch.Show(a, words, line), a.Of, holds(rec, alone(a), cat)})
	}
	return out, got.Heard
}

// alone reports one answer and nothing else.
func alone(a reading.Answer) reading.Report {
	var r reading.Reading
	switch a.Of {
	case hunch.Take, hunch.Harm, hunch.Safe:
		r.Takes = []reading.Take{{Path: a.Path, Value: a.Value, Not: a.Not, Bound: a.Bound}}
	case hunch.Move:
		r.Moves = []reading.Move{{Path: a.Path, By: a.Value.(float64)}}
	case hunch.Act, hunch.Order:
		r.Acts = []reading.Act{reading.Act(a.Value.(string))}
	case hunch.Part:
		r.Parts = []reading.Part{*a.Part}
	}
	return r.Report()
}

// holds reports whether one thing that was taken of a line is what was expected, whatever
// became of the others: got holds nothing else.
func holds(rec readingtest.Record, got reading.Report, cat *knowledge.Catalogue) bool {
	amiss := func(rec readingtest.Record) bool {
		_, all := readingtest.Judge(rec, got, cat)
		return slices.ContainsFunc(all, func(s string) bool {
			return strings.HasPrefix(s, "must not take") || strings.HasPrefix(s, "takes for a question") || strings.Contains(s, "beside:") || strings.Contains(s, " read as ")
		})
	}
	if !amiss(rec) {
		return true
	}
	for _, take := range rec.Expect.Takes { // of two answers to a fact either
		one := rec
		one.Expect.Takes = []string{take}
		if len(got.Takes) > 0 && strings.HasPrefix(take, got.Takes[0].Path) && !amiss(one) {
			return true
		}
	}
	for _, part := range rec.Expect.Parts {
		one := rec
		one.Expect.Parts = []map[string]any{part}
		if len(got.Parts) > 0 && part["kind"] == got.Parts[0].Kind && !amiss(one) {
			return true
		}
	}
	return false
}

// offered returns the answers that mallow itself offers to its questions.
func offered(cat *knowledge.Catalogue) (out []line) {
	for _, q := range cat.Questions {
		for _, c := range q.Choices {
			out = append(out, line{File: "questions", Say: c.Say, Asked: q.ID, Expect: told(q.ID + "=" + c.Value)})
		}
	}
	return out
}

// told is an expectation of one answer.
func told(take string) map[string]any {
	return map[string]any{"acts": []string{"tell"}, "takes": []string{take}}
}

var groups = regexp.MustCompile(`\([^)]*\)`)

// listed returns the phrases of the word list that answer a fact or move one, by
// themselves and in three of their ways; not those too short to have an opinion of.
func listed(cat *knowledge.Catalogue) (out []line) {
	for _, w := range cat.Words {
		expect := told(w.Slot + "=" + w.Value)
		switch path, by, _ := strings.Cut(w.Value, " "); {
		case w.Slot == "move" || w.Slot == "wish":
			expect = map[string]any{"acts": []string{"tell"}, "moves": []string{path + by[:1]}}
		case !strings.Contains(w.Slot, ".") || w.Slot == reading.GradedSet:
			continue
		}
		for _, say := range w.Say {
			for k := range 3 {
				way := groups.ReplaceAllStringFunc(say, func(g string) string {
					ways := strings.Split(g[1:len(g)-1], "|")
					return ways[k%len(ways)]
				})
				if words := strings.Fields(way); len(words) >= hunch.Shortest {
					out = append(out, line{File: "words", Say: strings.Join(words, " "), Expect: expect})
				}
			}
		}
	}
	return out
}

// heard lists what the reader takes of an utterance of the tests, which is right: it was
// looked at word by word.
func heard(r *understand.Reader, l line, words []hunch.Word, text string) (out []answer, made []reading.Heard) {
	got := r.Read(l.Say, understand.Context{Asked: l.Asked})
	for _, a := range got.Weighed {
		if strings.HasSuffix(l.File, ".txt") {
			out = append(out, answer{hunch.Show(a, words, text), a.Of, true})
		}
	}
	return out, got.Heard
}

// uttered returns the lines of a file of assistant/understand/testdata/utterances.
func uttered(text string) (out []line) {
	for _, s := range strings.Split(text, "\n") {
		f := append(strings.Fields(s), "", "", "")
		add := func(key string, what any) {
			e := out[len(out)-1].Expect
			list, _ := e[key].([]any)
			e[key] = append(list, what)
		}
		switch {
		case s == "" || s[0] == '#':
		case s[0] == '>':
			out = append(out, line{Say: strings.TrimPrefix(s[1:], " "), Expect: map[string]any{}})
		case s[0] == '?':
			out[len(out)-1].Asked = strings.Fields(s[1:])[0]
		case f[1] == "=":
			add("takes", strings.ReplaceAll(s, " = ", "="))
		case f[0] == "move":
			add("moves", f[1]+f[2][:1])
		case f[0] == "have" || f[0] == "named" || f[0] == "avoid" || f[0] == "lack" || f[0] == "need":
			add("parts", map[string]string{"kind": f[1], "holding": f[0]})
		case f[0] == "act":
			add("acts", f[1])
		case f[0] == "keep":
			add("keeps", f[1])
		}
	}
	return out
}
