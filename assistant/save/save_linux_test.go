package save_test

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

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

func TestFileInAFolderOneMayNotWrite(t *testing.T) {
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() == 0 {
		// The superuser may write anywhere, so this thread reaches for files
		// as nobody, to whom the way down to the folder is opened.
		for up := dir; up != os.TempDir() && up != "/"; up = filepath.Dir(up) {
			if err := os.Chmod(up, 0o555); err != nil {
				t.Fatal(err)
			}
		}
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		if err := unix.Setfsuid(65534); err != nil {
			t.Fatal(err)
		}
		defer unix.Setfsuid(0)
	}
	err := save.File(filepath.Join(dir, "x"), false, text("x"))
	if err == nil || !strings.Contains(err.Error(), "you may not write in the folder") {
		t.Errorf("%v", err)
	}
}
