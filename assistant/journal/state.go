package journal

import (
	"bytes"
	"encoding/json"
	"hash/crc32"
	"strings"
)

// stateHeading is the first line of the file that holds a state. It says of
// what lines it is the state, and what of: other versions may answer the same
// lines otherwise.
type stateHeading struct {
	Of    string `json:"of"`    // versions of all that the state follows from
	Lines int    `json:"lines"` // said
	Size  int64  `json:"size"`  // of the session file at that time
	Sum   uint32 `json:"sum"`   // checksum of as much of it
	State uint32 `json:"state"` // checksum of what follows
}

func castagnoli() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) }

// beside is the file for the state of a session.
func (l *Log) beside() string { return strings.TrimSuffix(l.path, ".json") + ".state" }

// Keep keeps the state that the lines so far have led to, so that nobody has to
// answer them again. Of names the versions of all that it follows from. It is
// no loss where it fails: the lines say it all.
func (l *Log) Keep(of string, state []byte) error {
	if l.Unsaved() > 0 || l.size == 0 {
		return nil // it would be of lines that are not there
	}
	head, err := json.Marshal(stateHeading{of, len(l.session.Lines), l.size, l.sum, crc32.Checksum(state, castagnoli())})
	if err != nil {
		return err
	}
	return replace(l.disk, l.beside(), append(append(head, '\n'), state...), false)
}

// Kept returns the state that was kept, and of how many lines it is; nil where
// there is none, or it is of other lines or versions.
func (l *Log) Kept(of string) (state []byte, lines int) {
	data, err := readSmall(l.disk, l.beside())
	if err != nil {
		return nil, 0
	}
	first, state, _ := bytes.Cut(data, []byte("\n"))
	var h stateHeading
	if json.Unmarshal(first, &h) != nil || h.Of != of || h.State != crc32.Checksum(state, castagnoli()) ||
		h.Lines < 0 || h.Lines > len(l.session.Lines) || h.Size <= 0 || h.Size > l.size {
		return nil, 0
	}
	whole, err := readSmall(l.disk, l.path)
	if err != nil || int64(len(whole)) < h.Size || crc32.Checksum(whole[:h.Size], castagnoli()) != h.Sum {
		return nil, 0
	}
	return state, h.Lines
}
