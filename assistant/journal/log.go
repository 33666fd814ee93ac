package journal

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"slices"

	"github.com/gofrs/flock"
)

// Log is a session held open for writing, or one that is only read.
type Log struct {
	path    string
	disk    Disk
	lock    *flock.Flock
	session Session
	size    int64        // of the file as far as it is known to be whole; zero for one of another version, or none
	sum     uint32       // checksum of that much
	pending bytes.Buffer // what has to be added to it
	kept    int          // lines said that are on disk
}

// Session returns what has been logged.
func (l *Log) Session() Session {
	s := l.session
	s.Lines = slices.Clone(s.Lines)
	return s
}

// Len is how many lines were said.
func (l *Log) Len() int { return len(l.session.Lines) }

// Unsaved is how many lines of those said last are not on disk.
func (l *Log) Unsaved() int { return len(l.session.Lines) - l.kept }

// Add logs a line. On an error the line stays in memory and goes to disk with
// the next one that succeeds. A session that was done goes on.
func (l *Log) Add(line Line) error {
	e := entry{At: &line.At, Asked: line.Asked, Said: &line.Said}
	if l.session.Done {
		e.Done = new(bool)
		l.session.Done = false
	}
	l.session.Lines = append(l.session.Lines, line)
	return l.note(e)
}

// Describe sets the words that the session is recognised by.
func (l *Log) Describe(about string) error {
	if l.session.About == about {
		return nil
	}
	l.session.About = about
	return l.note(entry{About: &about})
}

// Finish marks the session as done.
func (l *Log) Finish() error {
	if l.session.Done {
		return l.Save()
	}
	l.session.Done = true
	return l.note(entry{Done: &l.session.Done})
}

// Close lets go of the session. What was added is on disk already.
func (l *Log) Close() error { return l.lock.Close() }

func (l *Log) note(e entry) error {
	if err := encode(&l.pending, e); err != nil {
		return err
	}
	return l.Save()
}

// Save puts what is not on disk there: at its end where the file is as it was
// left, else the file is made anew, whole. At any moment the disk holds every
// line that was saved before.
func (l *Log) Save() error {
	if l.size > 0 && l.pending.Len() == 0 {
		return nil
	}
	info, err := l.disk.Stat(l.path)
	switch {
	case err == nil && l.size > 0 && info.Size() >= l.size:
		err = l.add()
	case err == nil || errors.Is(err, fs.ErrNotExist):
		err = l.replace()
	}
	if err != nil {
		return fmt.Errorf("session: %w", err)
	}
	l.pending.Reset()
	l.kept = len(l.session.Lines)
	return nil
}

// add writes what is pending behind what is whole. What is there of an earlier
// attempt, which failed, is written over.
func (l *Log) add() error {
	size := l.size + int64(l.pending.Len())
	if size > MaxBytes {
		return fmt.Errorf("%s has come to the %d bytes that a session may have; begin a new one", l.path, MaxBytes)
	}
	f, err := l.disk.Open(l.path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer f.Close() // it is on disk by then
	if err := f.Truncate(l.size); err != nil {
		return err
	}
	_, err = f.WriteAt(l.pending.Bytes(), l.size)
	if err == nil {
		err = f.Sync()
	}
	if err != nil {
		_ = f.Truncate(l.size) // else its last line has no end, or is true
		return err
	}
	l.size, l.sum = size, crc32.Update(l.sum, castagnoli(), l.pending.Bytes())
	return nil
}

// replace writes the whole session under another name, and gives it its own
// once it is on disk.
func (l *Log) replace() error {
	data, err := l.session.Encode()
	if err != nil {
		return err
	}
	if err := replace(l.disk, l.path, data, true); err != nil {
		return err
	}
	l.size, l.sum = int64(len(data)), crc32.Checksum(data, castagnoli())
	return nil
}

// read reads the session.
func (l *Log) read() error {
	data, err := readSmall(l.disk, l.path)
	if err != nil {
		return err
	}
	session, n, err := decode(data)
	if err != nil {
		return err
	}
	l.session, l.kept = session, len(session.Lines)
	l.size, l.sum = int64(n), crc32.Checksum(data[:n], castagnoli())
	return nil
}

// load is read, setting the file aside when what is in it can't be used. A disk
// that can't be read now may be later.
func (l *Log) load() *FileError {
	err := l.read()
	if err == nil {
		return nil
	}
	ferr := &FileError{File: l.path, Why: err.Error()}
	var path *fs.PathError
	if errors.As(err, &path) {
		return ferr
	}
	if aside, err := setAside(l.disk, l.path); err == nil {
		ferr.Now = aside
	}
	return ferr
}
