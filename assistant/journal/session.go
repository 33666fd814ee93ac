package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"
)

// Version is the version of the session files written.
const Version = 2

// Session is a conversation as it was typed.
type Session struct {
	Version int       `json:"version"`
	Started time.Time `json:"started"`
	About   string    `json:"about,omitempty"` // a few words to recognise it by
	Done    bool      `json:"done,omitempty"`  // it has come to its end: not offered again, but to be had
	Lines   []Line    `json:"lines"`
}

// Said returns what was typed, line by line.
func (s Session) Said() []string {
	var lines []string
	for _, l := range s.Lines {
		lines = append(lines, l.Said)
	}
	return lines
}

// Line is one line typed.
type Line struct {
	At    time.Time `json:"at"`
	Asked string    `json:"asked,omitempty"` // id of the open question, or empty
	Said  string    `json:"said"`
}

// heading is the first line of a file.
type heading struct {
	Version int       `json:"version"`
	Started time.Time `json:"started"`
}

// entry is any other line of a file: a line that was said, or what has changed
// about the session.
type entry struct {
	At    *time.Time `json:"at,omitempty"`
	Asked string     `json:"asked,omitempty"`
	Said  *string    `json:"said,omitempty"`
	About *string    `json:"about,omitempty"`
	Done  *bool      `json:"done,omitempty"`
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
// them and, where that helps, what would be right. A last line without its end
// was being written when everything stopped, and is left out.
func Decode(data []byte) (Session, error) {
	s, _, err := decode(data)
	return s, err
}

// decode is Decode, and returns how many of the bytes are whole lines of this
// version: zero for an older one.
func decode(data []byte) (Session, int, error) {
	if len(bytes.TrimSpace(data)) == 0 {
		return Session{}, 0, errors.New("it is empty")
	}
	var first json.RawMessage
	var head struct {
		Version *int `json:"version"`
	}
	err := json.NewDecoder(bytes.NewReader(data)).Decode(&first)
	if err == nil {
		err = json.Unmarshal(first, &head)
	}
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF):
		return Session{}, 0, fmt.Errorf("it breaks off after %d bytes", len(data))
	case err != nil:
		return Session{}, 0, fmt.Errorf("it is not a session: %w", err)
	case head.Version == nil:
		return Session{}, 0, errors.New("it is not a session: it has no version")
	case *head.Version > Version:
		return Session{}, 0, fmt.Errorf("a newer mallow wrote it (version %d, this one reads up to %d)", *head.Version, Version)
	case *head.Version < 1:
		return Session{}, 0, fmt.Errorf("version %d never existed (valid: 1 to %d)", *head.Version, Version)
	case *head.Version == 1:
		s, err := decode1(data)
		return s, 0, err
	}
	var s Session
	n := 0
	for i := 1; n < len(data); i++ {
		line, _, whole := bytes.Cut(data[n:], []byte("\n"))
		if !whole {
			break
		}
		if i == 1 {
			var h heading
			if err := strictly(line, &h); err != nil {
				return Session{}, 0, fmt.Errorf("it is not a session: %w", err)
			}
			s = Session{Version: Version, Started: h.Started}
		} else if err := s.enter(line); err != nil {
			return Session{}, 0, fmt.Errorf("its line %d is not a session's: %w", i, err)
		}
		n += len(line) + 1
	}
	if n == 0 {
		return Session{}, 0, fmt.Errorf("it breaks off after %d bytes", len(data))
	}
	return s, n, nil
}

// decode1 reads the first version: one JSON object, written anew for each line.
func decode1(data []byte) (Session, error) {
	var s Session
	if err := strictly(data, &s); err != nil {
		return Session{}, fmt.Errorf("it is not a session: %w", err)
	}
	s.Version = Version
	for i, l := range s.Lines {
		if l.Asked == "want.steps" { // what softness was called once
			s.Lines[i].Asked = "want.softness"
		}
	}
	return s, nil
}

// strictly reads the one JSON value of data, of which nothing may be unknown.
func strictly(data []byte, v any) error {
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(v); err != nil {
		return err
	}
	if _, err := dec.Token(); err != io.EOF {
		return errors.New("it goes on after its end")
	}
	return nil
}

// enter takes in a line of the file.
func (s *Session) enter(line []byte) error {
	var e entry
	if err := strictly(line, &e); err != nil {
		return err
	}
	switch {
	case e.Said != nil && e.At != nil:
		s.Lines = append(s.Lines, Line{*e.At, e.Asked, *e.Said})
	case e.Said != nil:
		return errors.New("it does not say when")
	}
	if e.About != nil {
		s.About = *e.About
	}
	if e.Done != nil {
		s.Done = *e.Done
	}
	return nil
}

// Encode returns the session as a file's bytes.
func (s Session) Encode() ([]byte, error) {
	var b bytes.Buffer
	if err := encode(&b, heading{Version, s.Started}); err != nil {
		return nil, err
	}
	for _, l := range s.Lines {
		if err := encode(&b, entry{At: &l.At, Asked: l.Asked, Said: &l.Said}); err != nil {
			return nil, err
		}
	}
	if s.About != "" {
		if err := encode(&b, entry{About: &s.About}); err != nil {
			return nil, err
		}
	}
	if s.Done {
		if err := encode(&b, entry{Done: &s.Done}); err != nil {
			return nil, err
		}
	}
	return b.Bytes(), nil
}

// encode adds a line to a file's bytes.
func encode(b *bytes.Buffer, v any) error {
	if err := json.NewEncoder(b).Encode(v); err != nil {
		return fmt.Errorf("session: %w", err)
	}
	return nil
}

// readSmall reads a regular file of at most MaxBytes.
func readSmall(d Disk, path string) ([]byte, error) {
	info, err := d.Stat(path)
	if err != nil {
		return nil, err
	}
	switch {
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not a file")
	case info.Size() > MaxBytes:
		return nil, fmt.Errorf("it has %d bytes, more than the %d a session may have", info.Size(), MaxBytes)
	}
	return d.ReadFile(path)
}
