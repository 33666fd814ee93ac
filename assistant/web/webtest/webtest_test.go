package webtest_test

import (
	"html/template"
	"strings"
	"testing"

	"mallow/assistant/web"
	"mallow/assistant/web/webtest"
)

// What is wrong with a page is seen, and nothing else is.
func TestWrong(t *testing.T) {
	if testing.Short() {
		t.Skip("no browser in a short run")
	}
	const svg = `<svg role="img" width="300" height="100" viewBox="0 0 300 100" aria-labelledby="t d" fill="#000" font-size="14"><title id="t">a picture</title><desc id="d">1 line</desc>`
	body := "<h1>a</h1>" + svg + `<line x1="0" y1="20" x2="300" y2="20" stroke="#000"/><text x="100" y="70">all right</text></svg>`
	page := func(body string) string {
		var out strings.Builder
		if err := web.Write(&out, "a page", template.HTML(body)); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	if got := webtest.Wrong(t, page(body), 600); got != "" {
		t.Errorf("found %q, want nothing", got)
	}
	body += svg + `<line x1="0" y1="65" x2="300" y2="65" stroke="#000"/><text x="100" y="70">across</text></svg>` +
		svg + `<circle cx="90" cy="65" r="30" stroke="#000" fill="none"/><text x="100" y="70">round</text></svg>` +
		svg + `<text x="100" y="70">over</text><text x="104" y="72">under</text><text x="290" y="30">out of it</text></svg>` +
		`<h3>b</h3><div style="width:900px;height:9px"></div>`
	got := webtest.Wrong(t, page(body), 600)
	for _, want := range []string{"“across” lies over a line", "“round” lies over a circle", "“over” lies over “under”", "“out of it” leaves the picture", "skips from 1 to 3", "pans sideways"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in:\n%s", want, got)
		}
	}
}
