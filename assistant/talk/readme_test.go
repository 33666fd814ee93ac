package talk

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"mallow/assistant"
	"mallow/assistant/page"
	"mallow/assistant/term"
	"mallow/knowledge/knowledgetest"
	"mallow/rules/facts/factstest"
)

// The conversation in README.md is the one that mallow holds, word for word but for
// the caution that is shortened there.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, shown, _ := strings.Cut(string(data), "```text\n")
	shown, _, _ = strings.Cut(shown, "\n```")
	var lines []string
	for _, l := range strings.Split(shown, "\n") {
		if said, ok := strings.CutPrefix(l, ">"); ok {
			lines = append(lines, strings.TrimSpace(said))
		}
	}
	if len(lines) < 4 {
		t.Fatalf("%d lines are said in README.md", len(lines))
	}
	in := filepath.Join(t.TempDir(), "said")
	if err := os.WriteFile(in, []byte(strings.Join(lines, "\n")+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(in)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out bytes.Buffer
	r, err := term.Open(context.Background(), term.Config{In: f, Out: &out})
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	c := Config{In: r, Out: &out, Clock: time.Now, Style: func() page.Style { return page.Style{Width: 80} }}
	shipped, err := assistant.NewKit(knowledgetest.Catalogue(t), factstest.Book(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := Run(context.Background(), shipped, c); err != nil {
		t.Fatal(err)
	}
	got := regexp.MustCompile(`(?m) +$`).ReplaceAllString(out.String(), "")
	want := strings.ReplaceAll(regexp.QuoteMeta(shown), "…", `(?s:.*?)`)
	if !regexp.MustCompile(`^` + want + `\n`).MatchString(got) {
		t.Errorf("README.md shows another conversation than:\n%s", got)
	}
}
