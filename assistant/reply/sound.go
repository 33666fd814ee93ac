package reply

import (
	"fmt"
	"strings"

	"mallow/assistant/page"
)

// Heard is a sketch of sound: what is heard when.
type Heard struct {
	Instrument string   `json:"instrument"` // id
	On         string   `json:"-"`          // its name
	Heads      []Voice  `json:"heads"`
	Seconds    float64  `json:"length_s"`
	Cues       []Cue    `json:"cues"`
	Files      []string `json:"files,omitempty"`
	Played     string   `json:"played,omitempty"` // how, or why not
	Caveat     string   `json:"caveat"`
	Guide      []string `json:"-"` // the cues in words
	// Cuts are sections of the heads that would not sound as in the sketch.
	Cuts []page.Picture `json:"-"`
}

// Voice is a head that is heard.
type Voice struct {
	Name    string   `json:"name"`
	Stack   string   `json:"stack"`
	Trouble []string `json:"trouble,omitempty"` // why it would not sound like this
}

// Cue is where a stroke begins.
type Cue struct {
	StartS   float64 `json:"start_s"`
	Head     string  `json:"head"`
	Register string  `json:"register"`
	Note     string  `json:"note"`
	Dynamic  string  `json:"dynamic"`
}

// Page announces what is heard.
func (v Heard) Page() page.Page {
	var p page.Page
	var names []string
	for _, h := range v.Heads {
		for _, t := range h.Trouble {
			p = append(p, page.Para("This head would not sound as in the sketch. "+t))
		}
		if h.Name != h.Stack {
			names = append(names, h.Name+": "+h.Stack)
		}
	}
	for _, c := range v.Cuts {
		p = append(p, c)
	}
	if len(names) > 0 {
		p = append(p, page.List{Items: names})
	}
	text := fmt.Sprintf("%.0f s on %s, 48 kHz, 24 bit.", v.Seconds, v.On)
	if len(v.Files) > 0 {
		text = strings.Join(v.Files, ", ") + ": " + text
	}
	return append(p, page.Para(text+" "+v.Caveat), page.List{Items: v.Guide})
}
