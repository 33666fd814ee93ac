package web_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"mallow/assistant/web"
)

// What is printed is read at the bench: no text of the page is under nine
// points.
func TestPrintIsReadable(t *testing.T) {
	var out strings.Builder
	if err := web.Write(&out, "a page", "<h1>a page</h1>"); err != nil {
		t.Fatal(err)
	}
	_, print, ok := strings.Cut(out.String(), "@media print {\n")
	sizes := regexp.MustCompile(`([0-9.]+)pt`).FindAllStringSubmatch(print, -1)
	if !ok || len(sizes) < 5 {
		t.Fatalf("%d sizes of type in print", len(sizes))
	}
	for _, m := range sizes {
		if pt, err := strconv.ParseFloat(m[1], 64); err != nil || pt < 9 {
			t.Errorf("%s pt in print", m[1])
		}
	}
}
