// Package hunch has a second opinion of what a line speaks of: a small network,
// taught by lines that people wrote and clerks read. It knows how likely a fact is
// spoken of, and how likely what the reader took is right; it takes nothing of a line itself.
//
// Each word is a row of numbers; filters look for stretches of one to five words,
// what each filter found most of is weighed, and every label gets a likelihood. For an
// answer the words that it came from are marked, and what is found then is weighed
// with what the answer is.
// The folder testdata/hunch holds how it was taught.
package hunch

import (
	"cmp"
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/reading"
)

//go:embed weights.bin
var weights string

// Net is a network that has been taught. It may be shared by goroutines.
type Net struct {
	shape
	bounds
	label map[string]int
	tag   map[string]int
	ask   map[string]int
	at    string // where each word begins in words, 4 bytes each, and where the last ends
	words string // sorted, one after another
	rows  string // of each word, from 1; a signed byte for each column
	scale []float32

	tags, asks    []float32   // a row for each
	near          [][]float32 // of each width: filters of width times columns numbers
	bias          [][]float32
	hide, hidBias []float32
	out, outBias  []float32

	// What thinks again of a line when it is known what the reader made of it.
	heard            map[string]int
	again, againBias []float32 // from what was seen
	hears            []float32 // a row for each thing that may be heard
	last, lastBias   []float32
	straight         []float32 // a row for each thing that may be heard, to the labels

	// What weighs an answer.
	answer             map[string]int
	answers            []float32   // a row for each, before them one for what was not taught
	marks              [][]float32 // of each width: for each place and stand a number for each filter
	weigh, weighBias   []float32
	settle, settleBias []float32
	says               []says  // of each label
	guesses            []Guess // what they can come to, none likely
}

// shape is what the weights say of themselves first.
type shape struct {
	Labels  []string `json:"labels"`
	Tags    []string `json:"tags"`
	Asked   []string `json:"asked"`
	Widths  []int    `json:"widths"`
	Filters int      `json:"filters"`
	Columns int      `json:"columns"` // of a word's row
	TagCols int      `json:"tagcols"` // of a tag's row
	AskCols int      `json:"askcols"` // of an asked fact's row
	Hidden  int      `json:"hidden"`
	Words   int      `json:"words"`
	Heard   []string `json:"heard"`
	Again   int      `json:"again"` // units that think again

	Answers    []string `json:"answers"`
	AnswerCols int      `json:"answercols"` // of an answer's row
	Signs      int      `json:"signs"`
	Weighing   int      `json:"weighing"` // units that weigh an answer
}

const magic = "hunch03\n"

// New returns the network that is shipped. Value reads a word as the value of a fact; it may
// fail for a word that is none.
func New(value func(path, word string) (any, error)) (*Net, error) {
	n, err := parse(weights)
	if err == nil {
		n.bounds, err = newBounds()
	}
	if err != nil {
		return nil, fmt.Errorf("hunch: %w", err)
	}
	n.read(value)
	return n, nil
}

// parse reads weights as train.py writes them.
func parse(data string) (*Net, error) {
	data, ok := strings.CutPrefix(data, magic)
	if !ok || len(data) < 8 {
		return nil, fmt.Errorf("the weights don't begin with %q and two lengths", magic)
	}
	head, text := int(number(data)), int(number(data[4:]))
	data = data[8:]
	n := &Net{}
	if head > len(data) {
		return nil, fmt.Errorf("the weights end within their head")
	}
	if err := json.Unmarshal([]byte(data[:head]), &n.shape); err != nil {
		return nil, fmt.Errorf("the head of the weights: %w", err)
	}
	n.label, n.tag, n.ask = index(n.Labels), index(n.Tags), index(n.Asked)
	r := &reader{data: data[head:]}
	n.at, n.words, n.rows = r.bytes(4*(n.Words+1)), r.bytes(text), r.bytes((n.Words+1)*n.Columns)
	n.scale = r.floats(n.Columns)
	n.tags, n.asks = r.floats(len(n.Tags)*n.TagCols), r.floats(len(n.Asked)*n.AskCols)
	for _, w := range n.Widths {
		n.near, n.bias = append(n.near, r.floats(n.Filters*w*(n.Columns+n.TagCols))), append(n.bias, r.floats(n.Filters))
	}
	in := n.Filters*len(n.Widths) + n.AskCols
	n.hide, n.hidBias = r.floats(n.Hidden*in), r.floats(n.Hidden)
	n.out, n.outBias = r.floats(len(n.Labels)*n.Hidden), r.floats(len(n.Labels))
	n.heard = index(n.Heard)
	n.again, n.againBias = r.floats(n.Again*in), r.floats(n.Again)
	n.hears = r.floats(len(n.Heard) * n.Again)
	n.last, n.lastBias = r.floats(len(n.Labels)*n.Again), r.floats(len(n.Labels))
	n.straight = r.floats(len(n.Labels) * len(n.Heard))
	n.answer = index(n.Answers)
	n.answers = r.floats((len(n.Answers) + 1) * n.AnswerCols)
	for _, w := range n.Widths {
		n.marks = append(n.marks, r.floats(w*stands*n.Filters))
	}
	in += 2*n.AnswerCols + n.Signs + len(Shown{}.Labels)
	n.weigh, n.weighBias = r.floats(n.Weighing*in), r.floats(n.Weighing)
	n.settle, n.settleBias = r.floats(n.Weighing), r.floats(1)
	if r.short || len(r.data) > 0 {
		return nil, fmt.Errorf("the weights are not as long as their head says (%d bytes over)", len(r.data))
	}
	return n, nil
}

func index(names []string) map[string]int {
	out := make(map[string]int, len(names))
	for i, s := range names {
		out[s] = i
	}
	return out
}

// number reads four bytes, the lowest first.
func number(s string) uint32 {
	return uint32(s[0]) | uint32(s[1])<<8 | uint32(s[2])<<16 | uint32(s[3])<<24
}

// reader cuts tables off the front of data.
type reader struct {
	data  string
	short bool
}

func (r *reader) bytes(n int) string {
	if n < 0 || n > len(r.data) {
		r.short = true
		return ""
	}
	out := r.data[:n]
	r.data = r.data[n:]
	return out
}

func (r *reader) floats(n int) []float32 {
	b := r.bytes(4 * n)
	out := make([]float32, len(b)/4)
	for i := range out {
		out[i] = math.Float32frombits(number(b[4*i:]))
	}
	return out
}

// word returns the number of a word from 1, or 0 for one that nobody knows.
func (n *Net) word(w string) int {
	at := func(i int) int { return int(number(n.at[4*i:])) }
	lo, hi := 0, n.Words
	for lo < hi {
		mid := (lo + hi) / 2
		switch strings.Compare(n.words[at(mid):at(mid+1)], w) {
		case 0:
			return mid + 1
		case -1:
			lo = mid + 1
		default:
			hi = mid
		}
	}
	return 0
}

// Opinion is how likely a line speaks of each label.
type Opinion struct {
	net    *Net
	likely []float32
	whole  view      // of the whole line
	most   []float32 // what whole found most of, as if nothing had been asked
	free   []float32 // as likely, then
}

// view is what the network saw of a stretch of words.
type view struct {
	count int
	asked string
	found [][]float32 // of each width, for each word what each filter found about it
	most  []float32   // what each filter found most of, then the row of the asked fact
	odds  []float32   // of each label, as logarithms
}

// after is what a line answers to where nothing was asked and something was said before.
const after = "after"

// Think returns an opinion of a line of words that answers to the asked fact; it follows
// where something was said before. There is none of what is too short or too long, and none
// where n is nil.
func (n *Net) Think(words []Word, asked string, follows bool) Opinion {
	if n == nil || len(words) < Shortest || len(words) > Longest {
		return Opinion{}
	}
	unasked := ""
	if follows {
		unasked = after
	}
	whole := n.look(words, cmp.Or(asked, unasked))
	o := Opinion{net: n, likely: shares(whole.odds), whole: whole, most: whole.most}
	o.free = o.likely
	if asked != "" {
		o.most = slices.Clone(whole.most)
		copy(o.most[len(o.most)-n.AskCols:], n.row(n.asks, n.ask[unasked], n.AskCols))
	}
	return o
}

// Knowing returns the opinion of the same line when it is known what the reader made of it.
func (o Opinion) Knowing(heard []reading.Heard) Opinion {
	n := o.net
	if n == nil {
		return o
	}
	o.whole.odds = n.rethink(o.whole.most, heard)
	o.likely = shares(o.whole.odds)
	o.free = o.likely
	if o.whole.asked != "" {
		o.free = shares(n.rethink(o.most, heard))
	}
	return o
}

// rethink returns the odds of each label for the most of each filter, the asked fact and
// what was made of the line.
func (n *Net) rethink(most []float32, heard []reading.Heard) []float32 {
	units := layer(n.again, n.againBias, most)
	for _, h := range heard {
		if i, taught := n.heard[h.What]; taught {
			addTimes(units, n.row(n.hears, i, len(units)), h.Much)
		}
	}
	out := layer(n.last, n.lastBias, rectified(units))
	for _, h := range heard {
		if i, taught := n.heard[h.What]; taught {
			addTimes(out, n.row(n.straight, i, len(out)), h.Much)
		}
	}
	return out
}

// odds returns those of each label for the most of each filter and the asked fact.
func (n *Net) odds(most []float32) []float32 {
	return layer(n.out, n.outBias, rectified(layer(n.hide, n.hidBias, most)))
}

// look returns what the network sees of words.
func (n *Net) look(words []Word, asked string) view {
	v := view{count: len(words), asked: asked, found: n.found(n.lay(words), len(words))}
	most := make([]float32, 0, n.Filters*len(n.Widths)+n.AskCols)
	for _, found := range v.found {
		top := make([]float32, n.Filters)
		for i := range v.count {
			for f, x := range found[i*n.Filters : (i+1)*n.Filters] {
				top[f] = max(top[f], x)
			}
		}
		most = append(most, top...)
	}
	most = append(most, n.row(n.asks, n.ask[asked], n.AskCols)...)
	v.most, v.odds = most, n.odds(most)
	return v
}

// rectified sets what is below nothing to nothing.
func rectified(row []float32) []float32 {
	for i, v := range row {
		row[i] = max(v, 0)
	}
	return row
}

// shares returns likelihoods for logarithms of odds.
func shares(odds []float32) []float32 {
	out := make([]float32, len(odds))
	for i, v := range odds {
		out[i] = float32(1 / (1 + math.Exp(-float64(v))))
	}
	return out
}

// lay returns the rows of words one after another, between rows of nothing as wide
// as the filters reach.
func (n *Net) lay(words []Word) []float32 {
	columns, beside := n.Columns+n.TagCols, n.beside()
	out := make([]float32, (len(words)+2*beside)*columns)
	for i, w := range words {
		row := out[(i+beside)*columns : (i+beside+1)*columns]
		at := n.word(w.Text)
		if at == 0 && w.Spelt != "" {
			at = n.word(w.Spelt)
		}
		for j, scale := range n.scale {
			row[j] = float32(int8(n.rows[at*n.Columns+j])) * scale
		}
		for _, t := range w.Tags {
			if k, ok := n.tag[t]; ok {
				add(row[n.Columns:], n.row(n.tags, k, n.TagCols))
			}
		}
	}
	return out
}

// beside is how many rows of nothing stand on either side of a line.
func (n *Net) beside() int { return slices.Max(n.Widths) / 2 }

// row returns row i of a table.
func (n *Net) row(table []float32, i, columns int) []float32 {
	return table[i*columns : (i+1)*columns]
}

// found returns for each width what each filter finds about each of count words laid in
// rows, one word after another.
func (n *Net) found(rows []float32, count int) [][]float32 {
	columns := n.Columns + n.TagCols
	out := make([][]float32, len(n.Widths))
	for k, width := range n.Widths {
		size, first := width*columns, n.beside()-width/2
		found := make([]float32, count*n.Filters)
		for f := 0; f < n.Filters; f += 2 {
			g := min(f+1, n.Filters-1)
			one, two := n.row(n.near[k], f, size), n.row(n.near[k], g, size)
			for i := 0; i < count; i += 2 {
				j := min(i+1, count-1)
				a, b, c, d := dots(one, two, rows[(first+i)*columns:][:size], rows[(first+j)*columns:][:size])
				here, next := found[i*n.Filters:(i+1)*n.Filters], found[j*n.Filters:(j+1)*n.Filters]
				here[f], next[f], here[g], next[g] = a+n.bias[k][f], b+n.bias[k][f], c+n.bias[k][g], d+n.bias[k][g]
			}
		}
		out[k] = found
	}
	return out
}

// dots returns the sums of the products of f with a and b, and of g with a and b: four
// at once, since fetching numbers takes longer than multiplying them.
func dots(f, g, a, b []float32) (fa, fb, ga, gb float32) {
	g, a, b = g[:len(f)], a[:len(f)], b[:len(f)]
	for i, v := range f {
		w, x, y := g[i], a[i], b[i]
		fa += v * x
		fb += v * y
		ga += w * x
		gb += w * y
	}
	return fa, fb, ga, gb
}

// layer returns a row of weights for each bias, times in, plus the bias.
func layer(weights, bias, in []float32) []float32 {
	out := make([]float32, len(bias))
	for i, b := range bias {
		out[i] = b + dot(weights[i*len(in):(i+1)*len(in)], in)
	}
	return out
}

func add(to, what []float32) {
	for i, v := range what {
		to[i] += v
	}
}

// addTimes adds what, times much.
func addTimes(to, what []float32, much float32) {
	for i, v := range what {
		to[i] += much * v
	}
}

// dot returns the sum of the products of a and b, which are as long as one another.
func dot(a, b []float32) float32 {
	var s0, s1, s2, s3 float32
	for len(a) >= 4 && len(b) >= 4 {
		s0 += a[0] * b[0]
		s1 += a[1] * b[1]
		s2 += a[2] * b[2]
		s3 += a[3] * b[3]
		a, b = a[4:], b[4:]
	}
	for i := range a {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + (s2 + s3)
}
