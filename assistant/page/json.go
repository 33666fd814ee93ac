package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// JSON writes v indented. All that could steer a terminal, or a page that it
// is pasted into, is escaped, and reads back as it was.
func JSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	var out bytes.Buffer
	for _, r := range b.String() {
		if s := string(r); Clean(s) != s { // only in a string: the rest is ASCII
			fmt.Fprintf(&out, `\u%04x`, r)
		} else {
			out.WriteRune(r)
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}
