package hunch

import (
	"math"
	"strconv"
	"strings"

	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// What an answer can be of.
const (
	Take = "take"
	Harm = "harm" // the careful answer to a fact of harm
	Safe = "safe" // the other
	Move = "move"
	Part = "part"
	Act  = "act" // a question
	// Order is to undo, go back, start over, save, leave or have a lesson.
	Order = "order"
)

// Shown is an answer as the network is shown it.
type Shown struct {
	Name   string    `json:"name"`   // of the fact and its value, as far as they are of few kinds
	Path   string    `json:"path"`   // of the fact alone
	Labels [2]string `json:"labels"` // what a line that says so likely speaks of
	From   int       `json:"from"`   // the words that it came from; none where To is 0
	To     int       `json:"to"`
	Signs  []float32 `json:"signs"`
}

// Show returns an answer of a line of words as the network is shown it.
func Show(a reading.Answer, words []Word, line string) Shown {
	out := Shown{Name: name(a), Path: a.Path}
	out.Labels[0] = wish(a.Path)
	out.Labels[1] = out.Labels[0]
	switch v := a.Value.(type) {
	case float64:
		if a.Of == Move {
			out.Labels[1] += sign(v)
		}
	case string:
		switch out.Labels[1] += how(a.Bound) + v; a.Of {
		case Part:
			out.Labels[1] = "part." + v
		case Act:
			out.Labels = [2]string{"question", "tell"}
		case Order:
			out.Labels = [2]string{v, "tell"}
		}
	case bool:
		out.Labels[1] += "=" + strconv.FormatBool(v)
	}
	if a.Not {
		out.Labels[1] = out.Labels[0] + "!"
	}
	out.From, out.To = span(words, line, a.Text)
	is := func(b bool) float32 {
		if b {
			return 1
		}
		return 0
	}
	all, said := float32(len(words)), float32(out.To-out.From)
	out.Signs = []float32{
		float32(a.Sure), is(a.Doubt), is(a.Faint), is(a.Back), is(a.Not), is(a.Bound != ""),
		is(a.Asked == a.Path), is(a.Asked != ""), is(a.Asks), is(a.Corrects), is(a.Follows),
		is(out.To == 0), said / 10, all / 20, said / max(all, 1),
	}
	return out
}

// wish is the fact that is wished for where one of the head is named.
func wish(path string) string { return strings.Replace(path, "head.", "want.", 1) }

// how is how a label says what a value is.
func how(bound string) string {
	switch bound {
	case "most":
		return "<="
	case "least":
		return ">="
	}
	return "="
}

// name names an answer: a figure only by its fact, a softness by the word nearest to it.
func name(a reading.Answer) string {
	switch v := a.Value.(type) {
	case string:
		if a.Path != "instrument.id" {
			return a.Path + "=" + v
		}
	case bool:
		return a.Path + "=" + strconv.FormatBool(v)
	case float64:
		switch {
		case a.Of == Move:
			return wish(a.Path) + sign(v)
		case a.Path == facts.WantSoftness:
			return a.Path + "=" + strconv.Itoa(int(math.Round(v)))
		}
	}
	return a.Path
}

// sign tells whether there is to be more or less of something.
func sign(by float64) string {
	if by < 0 {
		return "-"
	}
	return "+"
}

// span finds the words of a line that a stretch of its text holds, none where it isn't there.
func span(words []Word, line, text string) (from, to int) {
	at := strings.Index(line, text)
	if at < 0 || text == "" {
		return 0, 0
	}
	for i, w := range words {
		if w.from < at+len(text) && w.to > at {
			if to == 0 {
				from = i
			}
			to = i + 1
		}
	}
	return from, to
}

// A word of a line stands somewhere to an answer.
const (
	within = iota // it came from it
	before        // it stands close before
	behind
	beside // elsewhere
	stands
)

// close is how many words on either side of an answer stand close.
const close = 3

// stand tells where word i stands to an answer that came from words of the line.
func (a Shown) stand(i int) int {
	switch {
	case i >= a.From && i < a.To:
		return within
	case i < a.From && i >= a.From-close:
		return before
	case i >= a.To && i < a.To+close:
		return behind
	}
	return beside
}

// Right returns how likely an answer is right. It is not ok where there is no opinion, as
// of a fact that was not taught.
func (o Opinion) Right(a Shown) (likely float64, ok bool) {
	n := o.net
	if n == nil || len(a.Signs) != n.Signs {
		return 0, false
	}
	if _, taught := n.answer[a.Path]; !taught {
		return 0, false
	}
	in := make([]float32, 0, len(n.weigh)/n.Weighing)
	for k := range n.Widths {
		in = append(in, n.most(o.whole, k, a)...)
	}
	in = append(in, n.row(n.asks, n.ask[o.whole.asked], n.AskCols)...)
	for _, name := range []string{a.Name, a.Path} {
		at := 0
		if i, taught := n.answer[name]; taught {
			at = i + 1
		}
		in = append(in, n.row(n.answers, at, n.AnswerCols)...)
	}
	in = append(in, a.Signs...)
	const most, unit = 6, 3
	for _, label := range a.Labels {
		odds := float32(0)
		if i, taught := n.label[label]; taught {
			odds = min(max(o.whole.odds[i], -most), most) / unit
		}
		in = append(in, odds)
	}
	sum := layer(n.settle, n.settleBias, rectified(layer(n.weigh, n.weighBias, in)))
	return float64(shares(sum)[0]), true
}

// most returns the most that each filter of a width finds anywhere in a line whose words
// are marked for an answer.
func (n *Net) most(v view, width int, a Shown) []float32 {
	out, here := make([]float32, n.Filters), make([]float32, n.Filters)
	wide := n.Widths[width]
	for i := range v.count {
		copy(here, v.found[width][i*n.Filters:])
		for place := range wide {
			if j := i + place - wide/2; j >= 0 && j < v.count && a.To > 0 {
				add(here, n.row(n.marks[width], place*stands+a.stand(j), n.Filters))
			}
		}
		for f, x := range here {
			out[f] = max(out[f], x)
		}
	}
	return out
}
