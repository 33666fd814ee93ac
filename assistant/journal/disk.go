package journal

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Disk is what sessions ask of a file system. There is one, and those of tests,
// which fail or stop.
type Disk interface {
	MkdirAll(dir string, perm fs.FileMode) error
	Chmod(path string, perm fs.FileMode) error
	ReadDir(dir string) ([]fs.DirEntry, error)
	Stat(path string) (fs.FileInfo, error)
	ReadFile(path string) ([]byte, error)
	Open(path string, flag int, perm fs.FileMode) (File, error) // to write
	Rename(from, to string) error
	Remove(path string) error
}

// File is a file of a Disk, open for writing.
type File interface {
	io.WriterAt
	Truncate(size int64) error
	Sync() error
	Close() error
}

// System is the file system of this machine.
func System() Disk { return system{} }

type system struct{}

func (system) MkdirAll(dir string, perm fs.FileMode) error { return os.MkdirAll(dir, perm) }
func (system) Chmod(path string, perm fs.FileMode) error   { return os.Chmod(path, perm) }
func (system) ReadDir(dir string) ([]fs.DirEntry, error)   { return os.ReadDir(dir) }
func (system) Stat(path string) (fs.FileInfo, error)       { return os.Stat(path) }
func (system) ReadFile(path string) ([]byte, error)        { return os.ReadFile(path) }
func (system) Rename(from, to string) error                { return os.Rename(from, to) }
func (system) Remove(path string) error                    { return os.Remove(path) }

func (system) Open(path string, flag int, perm fs.FileMode) (File, error) {
	f, err := os.OpenFile(path, flag, perm)
	if err != nil {
		return nil, err // and no File that holds a nil
	}
	return f, nil
}

// suffix is what the name of a file ends in that is being written.
const suffix = ".new"

// replace writes a file under another name, and gives it its own once it is on
// disk. Only one program may be at it: whoever holds the session.
func replace(d Disk, path string, data []byte, durable bool) error {
	other := filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+suffix)
	f, err := d.Open(other, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.WriteAt(data, 0)
	if err == nil && durable {
		err = f.Sync()
	}
	if bad := f.Close(); err == nil {
		err = bad
	}
	if err == nil {
		err = d.Rename(other, path)
	}
	if err != nil {
		_ = d.Remove(other) // else it is written over, or cleared away, later
	}
	return err
}
