// Package journal keeps conversations on disk, so that nothing a person said
// is lost when the program or the machine stops.
//
// A session is the lines a person typed, in order, each with the question
// that was open. It holds no results: whoever opens it answers the lines
// again, or goes on from the state that is kept beside it. Every session is a
// file of its own, in which each line said is a line added at the end, and is
// held by a lock while a program writes to it. A file that can't be used is
// set aside under another name, never deleted.
//
// Sessions are ordered by their number, not by time, so that a clock set back
// changes nothing.
package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// MaxBytes is the size past which a session file is not read.
const MaxBytes = 64 << 20

// mostNumber is the highest number that a session gets.
const mostNumber = 999_999_999

// Dir returns the folder for mallow's state by the XDG base directory
// specification: $XDG_STATE_HOME/mallow, else ~/.local/state/mallow. The
// specification has a relative path ignored.
func Dir(getenv func(string) string) (string, error) {
	if d := getenv("XDG_STATE_HOME"); filepath.IsAbs(d) {
		return filepath.Join(d, "mallow"), nil
	}
	if h := getenv("HOME"); filepath.IsAbs(h) {
		return filepath.Join(h, ".local", "state", "mallow"), nil
	}
	return "", errors.New("neither XDG_STATE_HOME nor HOME names a folder")
}

// Shelf is the folder that holds the sessions.
type Shelf struct {
	dir  string
	disk Disk
}

// Open makes the folder dir if need be, readable by its owner only.
func Open(dir string) (Shelf, error) { return OpenOn(System(), dir) }

// OpenOn is Open on another disk than this machine's.
func OpenOn(disk Disk, dir string) (Shelf, error) {
	if err := disk.MkdirAll(dir, 0o700); err != nil {
		return Shelf{}, fmt.Errorf("session folder: %w", err)
	}
	if err := disk.Chmod(dir, 0o700); err != nil {
		return Shelf{}, fmt.Errorf("session folder: %w", err)
	}
	return Shelf{dir, disk}, nil
}

// Path returns the path of a file called name beside the sessions.
func (s Shelf) Path(name string) string { return filepath.Join(s.dir, name) }

// New starts a session and holds it until Close.
func (s Shelf) New(started time.Time) (*Log, error) {
	numbers, err := s.numbers()
	if err != nil {
		return nil, err
	}
	s.tidy()
	n := 1
	if len(numbers) > 0 {
		n = numbers[len(numbers)-1] + 1
	}
	// Another program may take the number between the listing and the lock.
	for range 1000 {
		log, err := s.hold(n)
		if err != nil {
			return nil, err
		}
		if log != nil {
			if _, err := s.disk.Stat(log.path); errors.Is(err, fs.ErrNotExist) {
				log.session = Session{Version: Version, Started: started}
				if err := log.Save(); err != nil {
					return nil, errors.Join(err, log.Close())
				}
				return log, nil
			}
			if err := log.Close(); err != nil {
				return nil, err
			}
		}
		n++
	}
	return nil, fmt.Errorf("session folder %s: no free session number near %d", s.dir, n)
}

// Found is what there is to take up again.
type Found struct {
	Log  *Log         // the last session that is not done, or else the last that is; nil for none
	Bad  []*FileError // files that can't be used, set aside
	Held string       // file of a later session that goes on in another program; empty for none
}

// Find takes up the last session that is not done, or else the last that is,
// and that no other program holds.
func (s Shelf) Find() (f Found, err error) {
	numbers, err := s.numbers()
	if err != nil {
		return f, err
	}
	for _, n := range slices.Backward(numbers) {
		log, err := s.hold(n)
		if err != nil {
			return f, errors.Join(err, f.close())
		}
		if log == nil { // goes on elsewhere
			there := &Log{path: s.Path(name(n)), disk: s.disk}
			if there.read() == nil && there.Len() > 0 && f.Held == "" && f.Log == nil {
				f.Held = there.path
			}
			continue
		}
		if ferr := log.load(); ferr != nil {
			f.Bad = append(f.Bad, ferr)
		} else if len(log.session.Lines) > 0 && (!log.session.Done || f.Log == nil) {
			if err := f.close(); err != nil {
				return f, err
			}
			f.Log = log
			if !log.session.Done {
				return f, nil
			}
			continue
		}
		if err := log.Close(); err != nil {
			return f, errors.Join(err, f.close())
		}
	}
	return f, nil
}

func (f *Found) close() error {
	if f.Log == nil {
		return nil
	}
	log := f.Log
	f.Log = nil
	return log.Close()
}

// Last returns the last session in which something was said, whether it is
// done, broken off or still going on, to be read and not to be written; nil
// when there is none. What of later ones can't be used is in bad. It changes
// nothing on disk.
func (s Shelf) Last() (last *Log, bad []*FileError, err error) {
	numbers, err := s.numbers()
	if err != nil {
		return nil, nil, err
	}
	for _, n := range slices.Backward(numbers) {
		log := &Log{path: s.Path(name(n)), disk: s.disk}
		if err := log.read(); err != nil {
			bad = append(bad, &FileError{File: log.path, Why: err.Error()})
		} else if log.Len() > 0 {
			return log, bad, nil
		}
	}
	return nil, bad, nil
}

// numbers returns the numbers of the sessions on the shelf, rising.
func (s Shelf) numbers() ([]int, error) {
	entries, err := s.disk.ReadDir(s.dir)
	if err != nil {
		return nil, fmt.Errorf("session folder: %w", err)
	}
	var numbers []int
	for _, e := range entries {
		mid, ok := strings.CutPrefix(e.Name(), "session-")
		mid, json := strings.CutSuffix(mid, ".json")
		if n, err := strconv.Atoi(mid); ok && json && err == nil && n > 0 && n < mostNumber && name(n) == e.Name() {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers, nil
}

// name returns the file name of session n.
func name(n int) string { return fmt.Sprintf("session-%06d.json", n) }

// hold takes the lock of session n, or returns nil when another holds it.
func (s Shelf) hold(n int) (*Log, error) {
	path := s.Path(name(n))
	lock := flock.New(path+".lock", flock.SetPermissions(0o600))
	got, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("session lock: %w", err)
	}
	if !got {
		return nil, nil
	}
	return &Log{path: path, disk: s.disk, lock: lock}, nil
}

// tidy removes what programs that were stopped in the middle of writing have
// left. Whoever writes holds the session's lock.
func (s Shelf) tidy() {
	left := regexp.MustCompile(`^\.session-(\d{6,9})\.(json|state)(\.new|\d+)$`)
	entries, err := s.disk.ReadDir(s.dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		m := left.FindStringSubmatch(e.Name())
		if m == nil {
			continue
		}
		n, err := strconv.Atoi(m[1])
		if err != nil {
			continue
		}
		if log, err := s.hold(n); err == nil && log != nil {
			_ = s.disk.Remove(s.Path(e.Name())) // it is in nobody's way
			log.Close()
		}
	}
}

// setAside renames path to a name that is free and that numbers ignores.
func setAside(d Disk, path string) (string, error) {
	for i := 1; ; i++ {
		aside := fmt.Sprintf("%s.aside-%d", path, i)
		_, err := d.Stat(aside)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return aside, d.Rename(path, aside)
		case err != nil:
			return "", err
		}
	}
}
