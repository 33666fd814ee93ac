// Package journaltest has disks that fail, or stop the program, at a call that
// a test chooses. It checks nothing itself.
package journaltest

import (
	"io/fs"
	"syscall"

	"mallow/assistant/journal"
)

// Kind is what happens at the chosen call.
type Kind int

// What happens.
const (
	Fail Kind = iota // it fails, and the next succeed
	Fill             // it fails, and so do all that write after it
	Stop             // the program is stopped there
)

// Stopped is what a Stop panics with.
type Stopped struct{}

// Disk is this machine's until the call.
type Disk struct {
	Kind Kind
	At   int // the call at which it happens, from 1; zero for never
	Call int // calls so far
}

// Reached reports whether it has happened.
func (d *Disk) Reached() bool { return d.At > 0 && d.Call >= d.At }

// try counts a call, and returns what it fails with. Once stopped, a program
// does nothing more.
func (d *Disk) try(writes bool) error {
	d.Call++
	switch {
	case d.At == 0 || d.Call < d.At:
		return nil
	case d.Kind == Stop:
		panic(Stopped{})
	case d.Kind == Fail && d.Call == d.At, d.Kind == Fill && writes:
		return syscall.ENOSPC
	}
	return nil
}

// MkdirAll is Disk's.
func (d *Disk) MkdirAll(dir string, perm fs.FileMode) error {
	if err := d.try(true); err != nil {
		return err
	}
	return journal.System().MkdirAll(dir, perm)
}

// Chmod is Disk's.
func (d *Disk) Chmod(path string, perm fs.FileMode) error {
	if err := d.try(false); err != nil {
		return err
	}
	return journal.System().Chmod(path, perm)
}

// ReadDir is Disk's.
func (d *Disk) ReadDir(dir string) ([]fs.DirEntry, error) {
	if err := d.try(false); err != nil {
		return nil, &fs.PathError{Op: "open", Path: dir, Err: err}
	}
	return journal.System().ReadDir(dir)
}

// Stat is Disk's.
func (d *Disk) Stat(path string) (fs.FileInfo, error) {
	if err := d.try(false); err != nil {
		return nil, &fs.PathError{Op: "stat", Path: path, Err: err}
	}
	return journal.System().Stat(path)
}

// ReadFile is Disk's.
func (d *Disk) ReadFile(path string) ([]byte, error) {
	if err := d.try(false); err != nil {
		return nil, &fs.PathError{Op: "read", Path: path, Err: err}
	}
	return journal.System().ReadFile(path)
}

// Rename is Disk's.
func (d *Disk) Rename(from, to string) error {
	if err := d.try(true); err != nil {
		return err
	}
	return journal.System().Rename(from, to)
}

// Remove is Disk's.
func (d *Disk) Remove(path string) error {
	if err := d.try(false); err != nil {
		return err
	}
	return journal.System().Remove(path)
}

// Open is Disk's.
func (d *Disk) Open(path string, flag int, perm fs.FileMode) (journal.File, error) {
	if err := d.try(true); err != nil {
		return nil, &fs.PathError{Op: "open", Path: path, Err: err}
	}
	f, err := journal.System().Open(path, flag, perm)
	if err != nil {
		return nil, err
	}
	return &file{d, f}, nil
}

type file struct {
	d *Disk
	journal.File
}

// WriteAt writes half of it where it fails or stops.
func (f *file) WriteAt(b []byte, at int64) (n int, err error) {
	if next := f.d.Call + 1; f.d.At == next || f.d.Kind == Fill && f.d.At > 0 && next > f.d.At {
		n, _ = f.File.WriteAt(b[:len(b)/2], at)
	}
	if err := f.d.try(true); err != nil {
		return n, err
	}
	return f.File.WriteAt(b, at)
}

// Truncate is a File's.
func (f *file) Truncate(size int64) error {
	if err := f.d.try(false); err != nil {
		return err
	}
	return f.File.Truncate(size)
}

// Sync is a File's.
func (f *file) Sync() error {
	if err := f.d.try(true); err != nil {
		return err
	}
	return f.File.Sync()
}

// Close is a File's. What it was told to do is done in any case.
func (f *file) Close() error {
	if f.d.Kind == Stop && f.d.Reached() {
		return f.File.Close()
	}
	err := f.d.try(true)
	if bad := f.File.Close(); err == nil {
		err = bad
	}
	return err
}
