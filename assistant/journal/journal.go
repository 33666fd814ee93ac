// Package journal keeps conversations on disk, so that nothing a person said
// is lost when the program or the machine stops.
//
// A session is the lines a person typed, in order, each with the question
// that was open. It holds no results: whoever opens it answers the lines
// again. Every session is a file of its own, replaced whole and atomically
// after each line, and held by a lock while a program writes to it. A file
// that can't be used is set aside under another name, never deleted.
//
// Sessions are ordered by their number, not by time, so that a clock set back
// changes nothing.
package journal

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"
	"github.com/google/renameio/v2"
)

// Version is the version of the session files written.
const Version = 1

// MaxBytes is the size past which a session file is not read.
const MaxBytes = 8 << 20

// Session is a conversation as it was typed.
type Session struct {
	Version int       `json:"version"`
	Started time.Time `json:"started"`
	About   string    `json:"about,omitempty"` // a few words to recognise it by
	Done    bool      `json:"done,omitempty"`  // ended with a build sheet: not offered again
	Lines   []Line    `json:"lines"`
}

// Line is one line typed.
type Line struct {
	At    time.Time `json:"at"`
	Asked string    `json:"asked,omitempty"` // id of the open question, or empty
	Said  string    `json:"said"`
}

// A FileError says why a session file can't be used.
type FileError struct {
	File string
	Why  string
	Now  string // name it was set aside under; empty when it is where it was
}

// Error returns a sentence without its full stop.
func (e *FileError) Error() string {
	s := fmt.Sprintf("%s can't be used: %s", e.File, e.Why)
	if e.Now != "" {
		s += "; it is kept as " + e.Now
	}
	return s
}

// Decode reads a session file's bytes. The error names what is wrong with
// them and, where that helps, what would be right.
func Decode(data []byte) (Session, error) {
	var head struct {
		Version *int `json:"version"`
	}
	if len(strings.TrimSpace(string(data))) == 0 {
		return Session{}, errors.New("it is empty")
	}
	if err := json.Unmarshal(data, &head); err != nil {
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) && syntax.Offset >= int64(len(data)) {
			return Session{}, fmt.Errorf("it breaks off after %d bytes", len(data))
		}
		return Session{}, fmt.Errorf("it is not a session: %w", err)
	}
	switch {
	case head.Version == nil:
		return Session{}, errors.New("it is not a session: it has no version")
	case *head.Version > Version:
		return Session{}, fmt.Errorf("a newer mallow wrote it (version %d, this one reads up to %d)", *head.Version, Version)
	case *head.Version < 1:
		return Session{}, fmt.Errorf("version %d never existed (valid: 1 to %d)", *head.Version, Version)
	}
	var s Session
	dec := json.NewDecoder(strings.NewReader(string(data)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&s); err != nil {
		return Session{}, fmt.Errorf("it is not a session: %w", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return Session{}, errors.New("it goes on after its end")
	}
	s.Version = Version
	for i, l := range s.Lines {
		if l.Asked == "want.steps" { // what softness was called once
			s.Lines[i].Asked = "want.softness"
		}
	}
	return s, nil
}

// Encode returns the session as a file's bytes.
func (s Session) Encode() ([]byte, error) {
	data, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		return nil, fmt.Errorf("session: %w", err)
	}
	return append(data, '\n'), nil
}

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
type Shelf struct{ dir string }

// Open makes the folder dir if need be, readable by its owner only.
func Open(dir string) (Shelf, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return Shelf{}, fmt.Errorf("session folder: %w", err)
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		return Shelf{}, fmt.Errorf("session folder: %w", err)
	}
	return Shelf{dir}, nil
}

// Path returns the path of a file called name beside the sessions.
func (s Shelf) Path(name string) string { return filepath.Join(s.dir, name) }

// New starts a session and holds it until Close.
func (s Shelf) New(started time.Time) (*Log, error) {
	numbers, err := s.numbers()
	if err != nil {
		return nil, err
	}
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
			if _, err := os.Lstat(log.path); errors.Is(err, fs.ErrNotExist) {
				log.session = Session{Version: Version, Started: started}
				if err := log.save(); err != nil {
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

// Unfinished takes up the last session that is not done and that no other
// program holds. It returns nil when there is none. Files that can't be used
// are set aside and reported.
func (s Shelf) Unfinished() (*Log, []*FileError, error) {
	numbers, err := s.numbers()
	if err != nil {
		return nil, nil, err
	}
	var bad []*FileError
	for _, n := range slices.Backward(numbers) {
		log, err := s.hold(n)
		if err != nil {
			return nil, bad, err
		}
		if log == nil {
			continue // in use
		}
		if ferr := log.load(); ferr != nil {
			bad = append(bad, ferr)
		} else if !log.session.Done && len(log.session.Lines) > 0 {
			return log, bad, nil
		}
		if err := log.Close(); err != nil {
			return nil, bad, err
		}
	}
	return nil, bad, nil
}

// Last returns the last session in which something was said, whether it is
// done, broken off or still going on, and false when there is none. It changes
// nothing on disk.
func (s Shelf) Last() (Session, bool, error) {
	numbers, err := s.numbers()
	if err != nil {
		return Session{}, false, err
	}
	for _, n := range slices.Backward(numbers) {
		data, err := readSmall(s.Path(name(n)))
		if err != nil {
			return Session{}, false, err
		}
		if last, err := Decode(data); err == nil && len(last.Lines) > 0 {
			return last, true, nil
		}
	}
	return Session{}, false, nil
}

// numbers returns the numbers of the sessions on the shelf, rising.
func (s Shelf) numbers() ([]int, error) {
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		return nil, fmt.Errorf("session folder: %w", err)
	}
	var numbers []int
	for _, e := range entries {
		mid, ok := strings.CutPrefix(e.Name(), "session-")
		mid, json := strings.CutSuffix(mid, ".json")
		if n, err := strconv.Atoi(mid); ok && json && err == nil && n > 0 && name(n) == e.Name() {
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
	return &Log{path: path, lock: lock}, nil
}

// Log is a session held open for writing.
type Log struct {
	path    string
	lock    *flock.Flock
	session Session
}

// Session returns what has been logged.
func (l *Log) Session() Session {
	s := l.session
	s.Lines = slices.Clone(s.Lines)
	return s
}

// Add logs a line. On an error the line stays in memory and goes to disk with
// the next one that succeeds.
func (l *Log) Add(line Line) error {
	l.session.Lines = append(l.session.Lines, line)
	return l.save()
}

// Describe sets the words that the session is recognised by.
func (l *Log) Describe(about string) error {
	if l.session.About == about {
		return nil
	}
	l.session.About = about
	return l.save()
}

// Finish marks the session as done.
func (l *Log) Finish() error {
	l.session.Done = true
	return l.save()
}

// Close lets go of the session. What was added is on disk already.
func (l *Log) Close() error { return l.lock.Close() }

// save replaces the file atomically: at any moment the disk holds the old
// session or the new one, whole.
func (l *Log) save() error {
	data, err := l.session.Encode()
	if err != nil {
		return err
	}
	if err := renameio.WriteFile(l.path, data, 0o600, renameio.WithTempDir(filepath.Dir(l.path)), renameio.WithStaticPermissions(0o600)); err != nil {
		return fmt.Errorf("session: %w", err)
	}
	return nil
}

// load reads the session, setting the file aside when it can't be used.
func (l *Log) load() *FileError {
	data, err := readSmall(l.path)
	if err == nil {
		l.session, err = Decode(data)
	}
	if err == nil {
		return nil
	}
	ferr := &FileError{File: l.path, Why: err.Error()}
	if aside, err := setAside(l.path); err == nil {
		ferr.Now = aside
	}
	return ferr
}

// readSmall reads a regular file of at most MaxBytes.
func readSmall(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	switch {
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not a file")
	case info.Size() > MaxBytes:
		return nil, fmt.Errorf("it has %d bytes, more than the %d a session may have", info.Size(), MaxBytes)
	}
	return os.ReadFile(path)
}

// setAside renames path to a name that is free and that numbers ignores.
func setAside(path string) (string, error) {
	for i := 1; ; i++ {
		aside := fmt.Sprintf("%s.aside-%d", path, i)
		_, err := os.Lstat(aside)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return aside, os.Rename(path, aside)
		case err != nil:
			return "", err
		}
	}
}
