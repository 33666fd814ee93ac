// Package built keeps the heads that a maker has built and measured, and what
// was learnt from them, in one YAML file of the maker's own.
//
// It never decides what is learnt. The file is changed under a lock, whole or
// not at all; one that can't be read is set aside.
package built

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"mallow/assistant/journal"
	"mallow/assistant/save"
	"mallow/knowledge/correct"
)

// Path is where the log is kept: beside the sessions.
func Path(getenv func(string) string) (string, error) {
	dir, err := journal.Dir(getenv)
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, "built.yaml"), nil
}

// Read reads the log at path; one that is not there is empty. A damaged one must not
// be the end of every command: it is set aside, and said says so. One
// that a newer mallow wrote stays as it is: the error wraps correct.ErrNewer.
func Read(path string, said io.Writer) (correct.Log, error) {
	empty := correct.Log{Version: correct.Version}
	data, err := save.Read(path)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return empty, nil
	}
	if err != nil {
		return correct.Log{}, fmt.Errorf("built heads: %w", err)
	}
	log, err := correct.Decode(path, data)
	if err == nil {
		return log, nil
	}
	if errors.Is(err, correct.ErrNewer) {
		return correct.Log{}, fmt.Errorf("the record of built heads is left as it is: %w", err)
	}
	aside, moved := setAside(path)
	if moved != nil {
		return correct.Log{}, err
	}
	fmt.Fprintf(said, "mallow: the record of built heads can't be read (%v). It is set aside as %s; what was learnt from it is left out until it is mended.\n", err, aside)
	return empty, nil
}

// setAside renames a damaged log to a name that nothing else has, and returns it.
func setAside(path string) (string, error) {
	aside := path + ".damaged"
	for n := 2; ; n++ {
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, os.Rename(path, aside)
		} else if err != nil {
			return "", err
		}
		aside = fmt.Sprintf("%s.damaged-%d", path, n)
	}
}

// Change reads the log at path, lets do change it, and writes it back, while no
// other program changes it. If do or anything else fails, or what came of it
// could not be read again, the file is as it was.
func Change(path string, said io.Writer, do func(*correct.Log) error) error {
	return save.Locked(path, func() error {
		log, err := Read(path, said)
		if err != nil {
			return err
		}
		if err := do(&log); err != nil {
			return err
		}
		data, err := correct.Encode(log)
		if err != nil {
			return err
		}
		if len(data) > save.MostBytes {
			return fmt.Errorf("the record of built heads would come to more than %d bytes, the limit; move %s elsewhere to begin a new one", save.MostBytes, path)
		}
		if _, err := correct.Decode(path, data); err != nil {
			return fmt.Errorf("the record of built heads stays as it was: %w", err)
		}
		return save.File(path, true, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		})
	})
}
