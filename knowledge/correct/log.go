// Package correct learns from heads that were built and measured: it adjusts
// densities (and a yarn's tex), the packing of wound yarn and its stiffness, each within its
// tolerance, so that what is computed comes nearest to what was measured.
//
// What it learns belongs to one maker's parts and bench. It is kept in the
// maker's own file, as a Log, and laid over a copy of the catalogue.
package correct

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/knowledge/yamlfile"
)

// Version is the version of Log that Encode writes and Decode reads.
const Version = 1

// maxHeads bounds a log.
const maxHeads = 500

// mostName bounds what a head is called, in bytes.
const mostName = 64

// Log is the heads that a maker has built and measured, and what was learnt
// from them.
type Log struct {
	Version int          `yaml:"version"`
	Heads   []Built      `yaml:"heads"`
	Adjust  []Adjustment `yaml:"adjust,omitempty"`
}

// Built is one head as it came out. A zero mass or diameter was not measured.
type Built struct {
	Name     string         `yaml:"name"`  // as the maker calls it
	Stack    string         `yaml:"stack"` // what it is made of, as stack text
	Mass     measure.Mass   `yaml:"mass,omitempty"`
	Diameter measure.Length `yaml:"diameter,omitempty"`
	// Squeezes are readings of the squeeze test: a head on its side on a
	// scale, under a flat block.
	Squeezes []Squeeze `yaml:"squeezes,omitempty"`
	// SofterThan and HarderThan name other built heads, as heard at mf.
	SofterThan []string `yaml:"softer_than,omitempty"`
	HarderThan []string `yaml:"harder_than,omitempty"`
}

// Squeeze is one reading of the squeeze test: so much narrower at so much on the
// scale.
type Squeeze struct {
	Narrower measure.Length `yaml:"narrower"`
	Scale    measure.Mass   `yaml:"scale"`
}

// ParseSqueeze reads "2 mm at 3.1 kg".
func ParseSqueeze(text string) (q Squeeze, err error) {
	narrower, scale, ok := strings.Cut(text, " at ")
	if !ok {
		return q, fault.Errorf("%q is no reading of the squeeze test; write how much narrower and what the scale showed, as in '2 mm at 3.1 kg'", text)
	}
	if q.Narrower, err = measure.ParseLength(narrower, measure.Millimetre); err != nil {
		return q, err
	}
	if q.Scale, err = measure.ParseMass(scale, measure.Kilogram); err != nil {
		return q, err
	}
	return q, q.check()
}

// String is the reading as ParseSqueeze reads it.
func (q Squeeze) String() string {
	return fmt.Sprintf("%.3g mm at %.3g kg", q.Narrower.MM(), float64(q.Scale/measure.Kilogram))
}

func (q Squeeze) check() error {
	switch {
	case !(q.Narrower >= 0.1*measure.Millimetre && q.Narrower <= 10*measure.Millimetre):
		return fault.Errorf("%.3g mm narrower; the test is read from 0.1 to 10 mm", q.Narrower.MM())
	case !(q.Scale >= 20*measure.Gram && q.Scale <= 50*measure.Kilogram):
		return fault.Errorf("%.3g kg on the scale; the test is read from 20 g to 50 kg", float64(q.Scale/measure.Kilogram))
	}
	return nil
}

// Adjustment is one figure of the catalogue as corrected. Its unit is the
// catalogue's.
type Adjustment struct {
	Kind  string  `yaml:"kind"`  // material, yarn or limits
	ID    string  `yaml:"id"`    // of the record
	Field string  `yaml:"field"` // density_kgm3, tex, loose, crush_pa or tension_n
	Was   float64 `yaml:"was"`
	Tol   float64 `yaml:"tol"` // half-width of its band before
	Now   float64 `yaml:"now"`
	Left  float64 `yaml:"left"` // half-width of its band now
}

// ErrNewer is wrapped by Decode's error where a newer mallow wrote the log: it is
// no damage, and the file has to be left as it is.
var ErrNewer = errors.New("a newer mallow wrote it")

// Decode reads a log and checks it. file is what errors call it.
func Decode(file string, data []byte) (Log, error) {
	var l Log
	errs := yamlfile.Decode(file, data, &l)
	// The version comes first, so that a newer file is not called misspelt.
	if l.Version > Version {
		return Log{}, fault.Errorf("%s: %w, as version %d; this one reads version %d", file, ErrNewer, l.Version, Version)
	}
	if l.Version != Version && (l.Version != 0 || len(errs) == 0) {
		return Log{}, fault.Errorf("%s: version %d; this mallow reads version %d", file, l.Version, Version)
	}
	if err := errs.Err(); err != nil {
		return Log{}, err
	}
	return l, l.Check()
}

// Encode writes a log, after checking it.
func Encode(l Log) ([]byte, error) {
	l.Version = Version
	if err := l.Check(); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	enc := yaml.NewEncoder(&out)
	enc.SetIndent(2)
	if err := enc.Encode(l); err != nil {
		return nil, fmt.Errorf("built heads: %w", err)
	}
	return out.Bytes(), enc.Close()
}

// Check reports everything in the log that can't be.
func (l Log) Check() error {
	var errs []error
	bad := func(b Built, format string, args ...any) {
		errs = append(errs, fmt.Errorf("built head %q: "+format, append([]any{b.Name}, args...)...))
	}
	if len(l.Heads) > maxHeads {
		errs = append(errs, fmt.Errorf("built heads: %d of them, the limit is %d", len(l.Heads), maxHeads))
	}
	names := map[string]bool{}
	for _, b := range l.Heads {
		switch {
		case strings.TrimSpace(b.Name) == "" || len(b.Name) > mostName:
			bad(b, "a head needs a name of at most %d characters", mostName)
		case names[b.Name]:
			bad(b, "named twice; give each its own name")
		}
		names[b.Name] = true
		if b.Stack == "" {
			bad(b, "no stack; write what it is made of, such as poly-1-1/8 + 3/4x1/8@1 + wool-medium")
		}
		if b.Mass != 0 && !(b.Mass >= 1*measure.Gram && b.Mass <= 500*measure.Gram) {
			bad(b, "mass %.1f g; a head weighs 1 to 500 g without its shaft", b.Mass.Grams())
		}
		if b.Diameter != 0 && !(b.Diameter >= 10*measure.Millimetre && b.Diameter <= 150*measure.Millimetre) {
			bad(b, "diameter %.1f mm; a head is 10 to 150 mm across", b.Diameter.MM())
		}
	}
	for _, b := range l.Heads {
		for _, q := range b.Squeezes {
			if err := q.check(); err != nil {
				bad(b, "%w", err)
			}
		}
		for _, other := range append(append([]string(nil), b.SofterThan...), b.HarderThan...) {
			if other == b.Name {
				bad(b, "compared with itself")
			} else if !names[other] {
				bad(b, "compared with %q, which is not in the log", other)
			}
		}
	}
	for _, a := range l.Adjust {
		if field(a.Kind, a.Field) == nil {
			errs = append(errs, fmt.Errorf("built heads: adjustment of %s %s: no field %q", a.Kind, a.ID, a.Field))
		} else if !(a.Now > 0) || !(a.Tol > 0) || a.Now < a.Was-a.Tol*1.001 || a.Now > a.Was+a.Tol*1.001 {
			errs = append(errs, fmt.Errorf("built heads: adjustment of %s %s %s to %g is outside %g ± %g", a.Kind, a.ID, a.Field, a.Now, a.Was, a.Tol))
		}
	}
	return errors.Join(errs...)
}

// Remove takes the head of that name out of the log, with what others say of it,
// and reports whether there was one.
func (l *Log) Remove(name string) bool {
	at := slices.IndexFunc(l.Heads, func(b Built) bool { return b.Name == name })
	if at < 0 {
		return false
	}
	l.Heads = slices.Delete(l.Heads, at, at+1)
	other := func(n string) bool { return n == name }
	for i := range l.Heads {
		l.Heads[i].SofterThan = slices.DeleteFunc(l.Heads[i].SofterThan, other)
		l.Heads[i].HarderThan = slices.DeleteFunc(l.Heads[i].HarderThan, other)
	}
	return true
}

// Learnt are the adjustments that say anything: with nothing measured that counts,
// none.
func (l Log) Learnt() []Adjustment {
	return slices.DeleteFunc(slices.Clone(l.Adjust), func(a Adjustment) bool {
		return a.Now == a.Was && a.Left == a.Tol
	})
}
