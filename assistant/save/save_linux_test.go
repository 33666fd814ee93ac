package save_test

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"mallow/assistant/save"
)

func TestFileOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("mallow-test", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk to fill, since a tmpfs can't be mounted here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	path := filepath.Join(dir, "out.wav")
	err := save.File(path, false, text(strings.Repeat("x", 1<<20)))
	if err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("a megabyte on a disk of 64 kB: %v", err)
	}
	if got := names(t, dir); got != "" {
		t.Errorf("left behind: %q", got)
	}
}

func TestReplacingOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("mallow-test", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("no small disk to fill, since a tmpfs can't be mounted here: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, 0) })
	path := filepath.Join(dir, "out.wav")
	if err := save.File(path, false, text("old")); err != nil {
		t.Fatal(err)
	}
	if err := save.File(path, true, text(strings.Repeat("x", 1<<20))); err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("a megabyte on a disk of 64 kB: %v", err)
	}
	if got := names(t, dir); got != "out.wav" || read(t, path) != "old" {
		t.Errorf("the folder holds %q, the file %q", got, read(t, path))
	}
}
