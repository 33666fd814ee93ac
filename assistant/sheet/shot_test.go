package sheet_test

import (
	"image/png"
	"os"
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
