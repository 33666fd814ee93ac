package sheet_test

import (
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mallow/assistant/sheet"
	"mallow/assistant/web/webtest"
	"mallow/rules"
)

type firing = rules.Firing

const fired = rules.Fired

// checkShot looks whether a screenshot shows a page: black on white, no
// other hues, neither blank nor dark.
func checkShot(t *testing.T, path string) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	size := img.Bounds().Size()
	if size.X != 900 || size.Y != 1200 {
		t.Errorf("the screenshot is %v", size)
	}
	dark, hued := 0, 0
	for y := range size.Y {
		for x := range size.X {
			r, g, b, _ := img.At(x, y).RGBA()
			if r < 0x8000 {
				dark++
			}
			if max(r, g, b)-min(r, g, b) > 0x3000 {
				hued++
			}
		}
	}
	share := float64(dark) / float64(size.X*size.Y)
	if share < 0.01 || share > 0.3 {
		t.Errorf("%.1f %% of the page is dark", 100*share)
	}
	if float64(hued) > 0.001*float64(size.X*size.Y) {
		t.Errorf("%d coloured points on a page meant for black and white", hued)
	}
}

// printed is the pages of a PDF as pictures of so many dots to the inch, none
// where they can't be drawn here.
func printed(t *testing.T, pdf string, dpi int) []image.Image {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Log("the print is not measured: pdftoppm is not installed")
		return nil
	}
	out := strings.TrimSuffix(pdf, ".pdf")
	if msg, err := exec.Command(tool, "-r", strconv.Itoa(dpi), "-gray", "-png", pdf, out).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, msg)
	}
	names, err := filepath.Glob(out + "-*.png")
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	var list []image.Image
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, img)
	}
	return list
}

// inked reports whether there is ink at a place of a page.
func inked(img image.Image, x, y int) bool {
	r, _, _, _ := img.At(x, y).RGBA()
	return r < 0xc000
}

// checkPrintScale measures the ruler on a PDF: its inches are 152.4 mm long.
func checkPrintScale(t *testing.T, pdf string) {
	t.Helper()
	const perMM = 10.0
	pages := printed(t, pdf, 254)
	for _, img := range pages {
		for y := range img.Bounds().Dy() {
			run := 0
			for x := range img.Bounds().Dx() {
				if inked(img, x, y) {
					run++
					continue
				}
				if math.Abs(float64(run)/perMM-152.4) <= 0.5 {
					return
				}
				run = 0
			}
		}
	}
	if len(pages) > 0 {
		t.Error("no line on the print is 6 in long")
	}
}

// checkFull measures how far down the pages of a PDF are printed: none is half
// empty.
func checkFull(t *testing.T, pdf string) {
	t.Helper()
	const least = 0.48
	for i, img := range printed(t, pdf, 30) {
		size, last := img.Bounds().Size(), 0
		for y := range size.Y {
			for x := range size.X {
				if inked(img, x, y) {
					last = y
					break
				}
			}
		}
		if full := float64(last) / float64(size.Y); full < least {
			t.Errorf("%s: page %d is printed down to %.0f %% only", filepath.Base(pdf), i+1, 100*full)
		}
	}
}

// No text of a sheet's pictures lies over a line.
func TestTextOverLines(t *testing.T) {
	if testing.Short() {
		t.Skip("no browser in a short run")
	}
	b := newBench(t)
	for _, text := range []string{"poly-1-1/8 + 3/4x1/8 + 1x1/8 + wool-medium + birch-16", "maple-1-1/8 + 3/4x1/16 + wool-medium + birch-16"} {
		var out strings.Builder
		if err := b.sheet(t, text, grown(), sheet.Options{}).HTML(&out); err != nil {
			t.Fatal(err)
		}
		webtest.Look(t, text, out.String(), 1280)
	}
}
