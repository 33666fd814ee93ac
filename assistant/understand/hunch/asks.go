package hunch

import "math"

// asking weighs what speaks for a line that the patterns take for a question being one.
type asking struct {
	Below float64            `yaml:"below"` // a line less likely to ask than this asks nothing
	First float64            `yaml:"first"`
	Acts  map[string]float64 `yaml:"acts"` // of each act that the network knows, by how likely it is
	Mark  float64            `yaml:"mark"`
	Word  float64            `yaml:"word"`
	Only  float64            `yaml:"only"`
	More  float64            `yaml:"more"`
}

// Signs are what a line that the patterns take for a question shows beside its words.
type Signs struct {
	Mark bool // it ends in a question mark
	Word bool // a sentence begins with a word that asks
	Only bool // it does nothing but ask
	More int  // how many sentences there are beyond the first
}

// Idle reports whether a line that the patterns take for a question is likely none. A line
// that there is no opinion of asks.
func (o Opinion) Idle(s Signs) bool {
	if o.net == nil {
		return false
	}
	a := &o.net.Asking
	sum := a.First + a.More*float64(s.More)
	for _, x := range []struct {
		is   bool
		many float64
	}{{s.Mark, a.Mark}, {s.Word, a.Word}, {s.Only, a.Only}} {
		if x.is {
			sum += x.many
		}
	}
	for _, act := range o.net.Labels { // in their order, so that sums are the same each time
		if w, known := a.Acts[act]; known {
			p, _ := o.Of(act)
			sum += w * odds(p)
		}
	}
	return 1/(1+math.Exp(-sum)) < a.Below
}

// odds returns the logarithm of the odds of a share, which grows no further where it is
// nearly nothing or all.
func odds(p float64) float64 {
	const least = 1e-4
	return math.Log(max(p, least) / max(1-p, least))
}
