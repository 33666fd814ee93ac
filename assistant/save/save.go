// Package save reads files whole, writes them whole or not at all, and lets one
// program at a time change one.
package save

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/gofrs/flock"
	"github.com/google/renameio/v2"
)

// ErrExists is wrapped by the error for a file that is there already, so that
// the caller can ask, or name the flag that replaces it.
var ErrExists = errors.New("already exists")

// MostBytes is as much as a file that people name or keep may hold: knowledge,
// rules, parts, rosters, built heads.
const MostBytes = 1 << 20

// Read returns what a file holds, which may be anything; one of more than
// MostBytes is an error.
func Read(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return ReadAll(f, path)
}

// ReadAll is Read for what is open already, by the name that errors call it.
func ReadAll(r io.Reader, name string) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	if err == nil && len(data) > MostBytes {
		err = fmt.Errorf("%s: more than %d bytes, the limit", name, MostBytes)
	}
	return data, err
}

// File makes the file at path out of what render writes. It shows up under
// its name only once it is complete and on disk; if anything fails, a file
// that was there before is as it was, and nothing is left behind. Without
// force a file that exists is not replaced, and the error wraps ErrExists.
// Only regular files are ever replaced. The error says what to do in one
// sentence.
func File(path string, force bool, render func(w io.Writer) error) error {
	path, exists, err := target(path, force)
	if err != nil {
		return err
	}
	force = exists
	// Rendered first, so that a failure or an interruption on the way finds
	// nothing on disk to leave behind.
	var b bytes.Buffer
	if err := render(&b); err != nil {
		return fmt.Errorf("can't write %q: %w", path, err)
	}
	sweep(path)
	f, err := renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
	if err != nil {
		return explain(path, err)
	}
	defer f.Cleanup()
	if _, err := f.Write(b.Bytes()); err != nil {
		return explain(path, err)
	}
	if force {
		return explain(path, f.CloseAtomicallyReplace())
	}
	// A hard link can't take the place of a file that somebody else has made
	// in the meantime; a rename would.
	if err := f.Sync(); err != nil {
		return explain(path, err)
	}
	switch err := os.Link(f.Name(), path); {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("can't write %q: it %w", path, ErrExists)
	case err != nil: // a file system without hard links
		return explain(path, f.CloseAtomicallyReplace())
	}
	return nil
}

// stale is how old a file must be that File began and never finished, before it
// is taken for one of a program that was stopped: a save takes no second.
const stale = 10 * time.Minute

// sweep removes what programs that were stopped in the midst of File have left
// beside path: files of its name with a dot before it and a number behind. What
// can't be removed stays.
func sweep(path string) {
	dir, base := filepath.Split(path)
	list, err := os.ReadDir(cmp.Or(dir, "."))
	if err != nil {
		return
	}
	for _, e := range list {
		number, ok := strings.CutPrefix(e.Name(), "."+base)
		if !ok || len(number) < 6 || strings.Trim(number, "0123456789") != "" || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > stale {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// wait is how long another program may hold a file before it is given up.
const wait = 10 * time.Second

// Locked calls do while no other program is in Locked for path, whose folder it
// makes if need be, readable by its owner only.
func Locked(path string, do func() error) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("can't make the folder of %q: %w", path, err)
	}
	lock := flock.New(path+".lock", flock.SetPermissions(0o600))
	for end := time.Now().Add(wait); ; time.Sleep(20 * time.Millisecond) {
		got, err := lock.TryLock()
		if err != nil {
			return fmt.Errorf("can't lock %q: %w", path, err)
		}
		if got {
			break
		}
		if time.Now().After(end) {
			return fmt.Errorf("another mallow has been changing %s for %.0f s; try again when it has ended", path, wait.Seconds())
		}
	}
	defer lock.Close()
	return do()
}

// Ready returns the error that File would return for a path before it renders
// anything: to be asked before work that takes long.
func Ready(path string, force bool) error {
	path, _, err := target(path, force)
	if err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Dir(path)); err != nil {
		return explain(path, err)
	}
	return nil
}

// target returns the file that a path means, and whether it is there, to be
// replaced.
func target(path string, force bool) (file string, exists bool, err error) {
	if path == "" {
		return "", false, errors.New("can't write a file without a name")
	}
	switch info, err := os.Lstat(path); {
	case errors.Is(err, fs.ErrNotExist):
		return path, false, nil
	case err != nil:
		return "", false, explain(path, err)
	case info.IsDir():
		return "", false, fmt.Errorf("can't write %q: it is a folder; give a file name inside it", path)
	case info.Mode()&fs.ModeSymlink != 0:
		// The file that the link points to is the one that is meant.
		to, err := filepath.EvalSymlinks(path)
		if err != nil {
			return "", false, fmt.Errorf("can't write %q: it is a link to nothing; remove it or give another name", path)
		}
		return target(to, force)
	case !info.Mode().IsRegular():
		return "", false, fmt.Errorf("can't write %q: it is not a regular file", path)
	case !force:
		return "", false, fmt.Errorf("can't write %q: it %w", path, ErrExists)
	}
	return path, true, nil
}

// explain says in a sentence why path was not written; nil stays nil.
func explain(path string, err error) error {
	dir := filepath.Dir(path)
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist) && isDir(dir):
		return fmt.Errorf("can't write %q: no files can be made in the folder %q; give another place", path, dir)
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("can't write %q: there is no folder %q; make it first, or give another name", path, dir)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("can't write %q: you may not write in the folder %q; give a place of your own", path, dir)
	case errors.Is(err, syscall.EROFS):
		return fmt.Errorf("can't write %q: the folder %q is on a read-only disk; give another place", path, dir)
	case errors.Is(err, syscall.ENOTDIR):
		return fmt.Errorf("can't write %q: %q is not a folder", path, dir)
	case errors.Is(err, syscall.ENAMETOOLONG):
		return fmt.Errorf("can't write %.40q…: the name is too long; give a shorter one", path)
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return fmt.Errorf("can't write %q: the disk is full; nothing was left there: free some space and try again", path)
	}
	return fmt.Errorf("can't write %q: %w", path, err)
}

func isDir(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
