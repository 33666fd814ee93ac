// Package ring computes the sound of a bar after a stroke: each tuned partial
// is a damped resonator driven by the force that the head pressed with.
//
// It is a sketch. The bar is its bending modes only, heard from nowhere in
// particular: no radiation pattern, no twisting modes, no room, no noise of
// the head itself. Differences between heads on one bar are what it is for.
package ring

import "math"

// Mode is one partial.
type Mode struct {
	Hz     float64
	DecayS float64 // time in which the amplitude falls by a factor e
	Gain   float64 // speed of the mode for an impulse of 1 N s, m/s, times how well it is heard
}

// Resonator says what a tube under the bar does to the fundamental: it
// makes it louder and takes its energy faster.
type Resonator struct {
	Louder float64 // factor on the amplitude
	Faster float64 // factor on the decay
}

// tube is an ordinary resonator. The figures are chosen for this program:
// marimba bars ring for about half as long over their tubes as the loss
// factor of the wood alone would have it (Fletcher and Rossing's 3 s at the
// low end, from memory, against 7.5 s derived from the loss factor), and a
// tube is there to make the fundamental plainly louder.
var tube = Resonator{Louder: 2, Faster: 2}

// Over returns modes with a resonator under the first.
func Over(modes []Mode) []Mode {
	out := append([]Mode(nil), modes...)
	if len(out) > 0 {
		out[0].Gain *= tube.Louder
		out[0].DecayS /= tube.Faster
	}
	return out
}

// DecayS returns the time in which a partial's amplitude falls by a factor e,
// for a material of loss factor eta: 1/(π·f·η).
func DecayS(hz, eta float64) float64 { return 1 / (math.Pi * hz * eta) }

// T60 returns the time in which a partial falls by 60 dB.
func T60(decayS float64) float64 { return decayS * math.Log(1000) }

// Add adds to dst, at rate samples a second, the sound of a bar that is pushed
// with force, in newtons, at per steps to a sample. Partials too high for the
// rate are left out.
//
// A mode of decay rate α and frequency ω answers an impulse with
// g·Re exp((iω − α)t); each step of force is taken as constant, for which the
// convolution is exact.
func Add(dst []float64, rate float64, modes []Mode, force []float64, per int) {
	h := 1 / (rate * float64(per))
	for _, m := range modes {
		if m.Hz >= 0.45*rate || m.DecayS <= 0 {
			continue
		}
		step, free := newResonator(m, h), newResonator(m, 1/rate).turn
		var z complex128
		for i := range dst {
			at := min(i*per, len(force))
			now := force[at:min(at+per, len(force))]
			for _, f := range now {
				z = z*step.turn + step.in*complex(f, 0)
			}
			switch len(now) {
			case 0:
				z *= free
			default: // the rest of a sample in which the force ends
				for range per - len(now) {
					z *= step.turn
				}
			}
			dst[i] += real(z)
		}
	}
}

// resonator is a mode over one step of time.
type resonator struct {
	turn complex128 // by which its state is multiplied
	in   complex128 // what a newton adds
}

func newResonator(m Mode, h float64) resonator {
	p := complex(-1/m.DecayS, 2*math.Pi*m.Hz)
	turn := expc(p, h)
	return resonator{turn, complex(m.Gain, 0) * (turn - 1) / p}
}

func expc(p complex128, h float64) complex128 {
	sin, cos := math.Sincos(imag(p) * h)
	e := math.Exp(real(p) * h)
	return complex(e*cos, e*sin)
}
