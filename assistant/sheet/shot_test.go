package sheet_test

import (
	"image/png"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

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

// checkPrintScale measures the ruler on the last page of a PDF: the longest
// line there is its inches, 152.4 mm.
func checkPrintScale(t *testing.T, pdf string, page int) {
	t.Helper()
	tool, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Log("the printed scale is not measured: pdftoppm is not installed")
		return
	}
	const perMM = 10.0
	const rule = 180.0 // mm, less than a rule across the page
	out := strings.TrimSuffix(pdf, ".pdf")
	n := strconv.Itoa(page)
	if msg, err := exec.Command(tool, "-r", "254", "-gray", "-png", "-singlefile", "-f", n, "-l", n, pdf, out).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, msg)
	}
	f, err := os.Open(out + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	longest := 0
	heading := img.Bounds().Dy() / 15 // and its rule across the page
	for y := heading; y < img.Bounds().Dy(); y++ {
		run := 0
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0xc000 {
				run++
				continue
			}
			if float64(run)/perMM < rule { // or it is under a heading
				longest = max(longest, run)
			}
			run = 0
		}
	}
	if mm := float64(longest) / perMM; math.Abs(mm-152.4) > 0.5 {
		t.Errorf("6 in of the ruler print as %.1f mm", mm)
	}
}
