package reply

import (
	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/rules/facts"
	"mallow/rules/gate"
)

// Assumptions are what nobody was asked that may hurt somebody. They stand
// first in every answer that holds a head.
type Assumptions struct {
	Assumed []Assumed `json:"assumed"`
}

// Assumed is one such question, and what stands for its answer.
type Assumed struct {
	Fact string `json:"fact"` // path
	Says string `json:"says"`
}

// Assuming returns what was not stated and matters to the heads, in the words
// of the catalogue's questions.
func Assuming(cat *knowledge.Catalogue, p gate.Pass, heads ...facts.Head) Assumptions {
	a := Assumptions{[]Assumed{}}
	for _, path := range p.Assumed(heads...) {
		q, _ := cat.Question(path)
		says := q.Unsaid
		if p.IsGiven() {
			says = q.Given
		}
		a.Assumed = append(a.Assumed, Assumed{path, says})
	}
	return a
}

// notAsked stands before what was assumed.
const notAsked = "What was not asked comes first:"

// Page is what stands first in an answer.
func (a Assumptions) Page() page.Page {
	if len(a.Assumed) == 0 {
		return nil
	}
	return page.Page{page.Para(notAsked), page.List{Items: a.Says()}}
}

// Says lists the sentences.
func (a Assumptions) Says() []string {
	var list []string
	for _, x := range a.Assumed {
		list = append(list, x.Says)
	}
	return list
}
