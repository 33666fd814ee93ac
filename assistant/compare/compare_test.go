package compare_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"mallow/assistant/compare"
	"mallow/assistant/page"
	"mallow/assistant/web/webtest"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
)

const (
	medium = "poly-1-1/8-drilled + 3/4x1/8 + wool-medium + birch-16"
	hard   = "maple-1 + 3/4x1/16 + wool-medium"
	soft   = "poly-1-1/8-drilled + 3/4x1/8 + 1x1/8 + acrylic-heavy + birch-16"
	slack  = "poly-1 + 1x1/8@1 + wool-medium"
)

func compared(t *testing.T, stacks ...string) compare.Comparison {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	inst, _ := cat.Instrument("marimba-5")
	var entries []compare.Entry
	for _, text := range stacks {
		s, err := head.Parse(cat, text)
		if err != nil {
			t.Fatal(err)
		}
		entries = append(entries, compare.Entry{Stack: s})
	}
	v, err := compare.New(cat, inst, compare.Title(len(entries)), entries)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What is said of the heads turns round with their order.
func TestAgainst(t *testing.T) {
	for _, c := range []struct {
		stacks []string
		want   []string
	}{
		{[]string{medium, hard}, []string{"harder", "lighter", "smaller"}},
		{[]string{hard, medium}, []string{"softer", "heavier", "larger"}},
		{[]string{medium, medium}, []string{"about as soft"}},
	} {
		got := strings.Join(compared(t, c.stacks...).Against, " ")
		for _, word := range c.want {
			if !strings.Contains(got, word) {
				t.Errorf("%q: no %q in %q", c.stacks, word, got)
			}
		}
	}
}

// Every rendering keeps to the width, and the plain one has no drawing.
func TestPage(t *testing.T) {
	for _, v := range []compare.Comparison{compared(t, medium), compared(t, medium, hard, soft), compared(t, medium, hard, soft, slack)} {
		for _, width := range []int{40, 80, 100} {
			for _, plain := range []bool{false, true} {
				var b strings.Builder
				if err := page.Text(&b, v.Page(width), page.Style{Width: width, Plain: plain}); err != nil {
					t.Fatal(err)
				}
				for line := range strings.Lines(b.String()) {
					if n := len([]rune(strings.TrimRight(line, "\n"))); n > width {
						t.Errorf("width %d, plain %v: a line of %d: %q", width, plain, n, line)
					}
					if plain && strings.ContainsAny(line, "~|") {
						t.Errorf("a drawing in plain text: %q", line)
					}
				}
			}
		}
	}
}

// A slice that would slap is said first, in text and on the page.
func TestSlackIsSaid(t *testing.T) {
	v := compared(t, medium, slack)
	var text strings.Builder
	if err := page.Text(&text, v.Page(80), page.Style{Width: 80}); err != nil {
		t.Fatal(err)
	}
	var html bytes.Buffer
	if err := v.HTML(&html); err != nil {
		t.Fatal(err)
	}
	for name, out := range map[string]string{"text": text.String(), "page": html.String()} {
		at, figures := strings.Index(out, "slack"), strings.Index(out, "softness, notches")
		if at < 0 || figures < at {
			t.Errorf("%s: slack is said at %d, figures begin at %d", name, at, figures)
		}
	}
}

func TestJSON(t *testing.T) {
	data, err := json.Marshal(compared(t, medium, hard))
	if err != nil {
		t.Fatal(err)
	}
	var v struct {
		Heads []struct {
			Name, Stack string
			Head        struct {
				Stack string
				MassG float64 `json:"mass_g"`
			}
		}
	}
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Heads) != 2 || v.Heads[1].Name != "B" || v.Heads[1].Stack != v.Heads[1].Head.Stack || v.Heads[1].Head.MassG < 5 {
		t.Errorf("JSON: %+v", v)
	}
}

func TestTooMany(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	if _, err := compare.New(cat, cat.Instruments[0], "", make([]compare.Entry, 5)); err == nil {
		t.Error("five heads are compared")
	}
	if _, err := compare.New(cat, cat.Instruments[0], "", nil); err == nil {
		t.Error("nothing is compared")
	}
}

// No text of the pictures lies over a line or another text.
func TestTextOverLines(t *testing.T) {
	if testing.Short() {
		t.Skip("no browser in a short run")
	}
	for n, stacks := range [][]string{{medium, slack}, {medium, hard, soft, "poly-1-drilled + birch-14"}} {
		v := compared(t, stacks...)
		var out strings.Builder
		if err := v.HTML(&out); err != nil {
			t.Fatal(err)
		}
		webtest.Look(t, fmt.Sprintf("comparison %d", n+1), out.String(), 390)
	}
}
