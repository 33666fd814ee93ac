package shelf_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"mallow/assistant/shelf"
	"mallow/knowledge/knowledgetest"
)

// TestChangeOnAFullDisk changes a shelf with less and less room on its disk: it
// is changed, or it is as it was and the error says that the disk is full.
func TestChangeOnAFullDisk(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	dir := t.TempDir()
	if err := syscall.Mount("mallow-test", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk to fill, since a tmpfs can't be mounted here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	path, filler := filepath.Join(dir, "shelf.yaml"), filepath.Join(dir, "filler")
	add := func(part string, n float64) error {
		return shelf.Change(cat, path, func(s *shelf.Shelf) error { s.Add(cat, item(part, n)); return nil })
	}
	changed, full := 0, 0
	for pages := 16; pages >= 0; pages-- {
		os.Remove(filler)
		os.Remove(path)
		if err := add("poly-1", 4); err != nil {
			t.Fatal(err)
		}
		before, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile(filler, make([]byte, 4096*(16-pages)), 0o600) // as much of it as there is room for
		err = add("birch-16", 3)
		after, readErr := os.ReadFile(path)
		if readErr != nil {
			t.Fatal(readErr)
		}
		switch {
		case err == nil && strings.Contains(string(after), "birch-16: 3\n") && strings.Contains(string(after), "poly-1: 4\n"):
			changed++
		case err != nil && string(after) == string(before) && strings.Contains(err.Error(), "the disk is full"):
			full++
		default:
			t.Errorf("with %d pages left: %v, and the shelf holds\n%s", pages, err, after)
		}
	}
	if changed == 0 || full == 0 {
		t.Errorf("%d changes with room and %d without: one was not tried", changed, full)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) > 3 { // shelf, lock, filler
		t.Errorf("left behind: %v, %v", entries, err)
	}
}
