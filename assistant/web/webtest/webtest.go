// Package webtest looks at pages in a headless browser, for tests. It knows what
// every page has to keep and never what stands on one.
package webtest

import (
	_ "embed"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

//go:embed look.js
var look string

var (
	policy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)
	looked = regexp.MustCompile(`(?s)<pre id="looked">(.*?)</pre>`)
)

// Look reports what is wrong with a page at a width in pixels, as an error of the
// test. It skips the test where there is no browser.
func Look(t *testing.T, name, page string, width int) {
	t.Helper()
	if found := Wrong(t, page, width); found != "" {
		t.Errorf("%s at %d px: %s", name, width, found)
	}
}

// Wrong returns what is wrong with a page at a width in pixels, a line for each;
// nothing where nothing is.
func Wrong(t *testing.T, page string, width int) string {
	t.Helper()
	browser, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("the page is not looked at: chromium is not installed")
	}
	dir, err := os.MkdirTemp("", "mallow-look-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	// The copy that is looked at may run a script, which a page of mallow never
	// may. A window is at least 500 px wide, so it is looked at in a frame.
	copied := strings.Replace(policy.ReplaceAllString(page, ""), "</body>", "<script>\n"+look+"</script></body>", 1)
	frame := fmt.Sprintf(`<!DOCTYPE html><meta charset="utf-8"><body><pre id="looked"></pre><script>
addEventListener('message', e => { document.getElementById('looked').textContent = e.data; });
</script><iframe src="page.html" style="width:%dpx;height:3000px;border:0"></iframe>`, width)
	for file, text := range map[string]string{"page.html": copied, "frame.html": frame} {
		if err := os.WriteFile(filepath.Join(dir, file), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--hide-scrollbars",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--window-size=1400,1000", "--virtual-time-budget=30000", "--dump-dom",
		"file://"+filepath.Join(dir, "frame.html")).Output()
	m := looked.FindSubmatch(out)
	if m == nil {
		t.Fatalf("the page was not looked at: %v", err)
	}
	found, ok := strings.CutPrefix(html.UnescapeString(string(m[1])), fmt.Sprintf("%d px: ", width))
	if !ok {
		t.Fatalf("the page was not looked at: %s", m[1])
	}
	if found == "nothing" {
		return ""
	}
	return found
}
