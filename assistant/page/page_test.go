package page_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"mallow/assistant/page"
)

func stack() page.Table {
	return page.Table{
		Title: "The stack, inside out",
		Head:  []string{"layer", "stretch", "mass_g"},
		Right: []bool{false, true, true},
		Rows:  [][]string{{"poly-1-1/8", "", "10.8"}, {"latex 3/4 x 1/8", "1.50", "9.4"}},
	}
}

func ExampleText() {
	p := page.Page{page.Heading{Level: 2, Text: "A head"}, page.Para("It holds."), stack()}
	page.Text(os.Stdout, p, page.Style{Width: 60})
	// Output:
	// A head
	//
	// It holds.
	//
	// The stack, inside out
	// ┌─────────────────┬─────────┬────────┐
	// │ layer           │ stretch │ mass_g │
	// ├─────────────────┼─────────┼────────┤
	// │ poly-1-1/8      │         │   10.8 │
	// │ latex 3/4 x 1/8 │    1.50 │    9.4 │
	// └─────────────────┴─────────┴────────┘
}

func ExampleText_plain() {
	page.Text(os.Stdout, page.Page{stack()}, page.Style{Width: 60, Plain: true})
	// Output:
	// The stack, inside out
	// layer poly-1-1/8: mass_g 10.8
	// layer latex 3/4 x 1/8: stretch 1.50; mass_g 9.4
}

func ExampleMarkdown() {
	t := stack()
	t.Rows = append(t.Rows, []string{"a|b\nc", "<b>", "*"})
	page.Markdown(os.Stdout, page.Page{t})
	// Output:
	// The stack, inside out
	//
	// | layer | stretch | mass\_g |
	// | --- | ---: | ---: |
	// | poly-1-1/8 |  | 10.8 |
	// | latex 3/4 x 1/8 | 1.50 | 9.4 |
	// | a\|b c | &lt;b&gt; | \* |
}

func TestTextKeepsToWidth(t *testing.T) {
	wide := page.Table{Head: []string{"part", "why", "a", "b", "c", "d", "e"}}
	wide.Rows = [][]string{{"one", strings.Repeat("word ", 30), "1", "2", "3", "4", "日本語のことば"}}
	p := page.Page{page.Para(strings.Repeat("plain words ", 40)), wide, page.List{Items: []string{strings.Repeat("item ", 40)}}}
	for _, width := range []int{0, 40, 60, 80, 200} {
		for _, plain := range []bool{false, true} {
			var b strings.Builder
			if err := page.Text(&b, p, page.Style{Width: width, Plain: plain}); err != nil {
				t.Fatal(err)
			}
			most := min(max(width, page.MinWidth), page.MaxWidth)
			for line := range strings.SplitSeq(b.String(), "\n") {
				if n := len([]rune(line)); n > most {
					t.Errorf("width %d, plain %v: a line of %d: %q", width, plain, n, line)
				}
			}
			if plain && strings.ContainsAny(b.String(), "│─┌") {
				t.Errorf("width %d: box drawing in plain text", width)
			}
		}
	}
}

func TestNoControlCharacterPasses(t *testing.T) {
	hostile := "a\x1b[31mred\x07\u202e\u009b2J\rend"
	p := page.Page{
		page.Heading{Level: 1, Text: hostile}, page.Para(hostile), page.List{Items: []string{hostile}},
		page.Table{Title: hostile, Head: []string{hostile}, Rows: [][]string{{hostile}}},
		page.Picture{Lines: []string{hostile}, Alt: hostile},
	}
	for _, plain := range []bool{false, true} {
		var b strings.Builder
		if err := page.Text(&b, p, page.Style{Width: 80, Plain: plain}); err != nil {
			t.Fatal(err)
		}
		if err := page.Markdown(&b, p); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(b.String(), "\x1b\x07\u202e\u009b\r") {
			t.Errorf("plain %v: a control character reached the output: %q", plain, b.String())
		}
	}
}

// JSON holds nothing that steers a terminal, and reads back as it was.
func TestJSON(t *testing.T) {
	const wild = "\x1b[2J\u009b31m\u202e\u2028\x7f</script>&\t\n木"
	var b strings.Builder
	if err := page.JSON(&b, []string{wild}); err != nil {
		t.Fatal(err)
	}
	if got := b.String(); page.Clean(got) != got || strings.Contains(got, "<") {
		t.Errorf("raw characters in %q", got)
	}
	var back []string
	if err := json.Unmarshal([]byte(b.String()), &back); err != nil || back[0] != wild {
		t.Errorf("read back as %q, %v", back, err)
	}
}
