package measure

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	for _, tt := range []struct {
		text string
		unit Length
		want Length
	}{
		{`1-1/8"`, 0, 1.125 * Inch},
		{"1 1/8 in", 0, 1.125 * Inch},
		{"1 1/8in.", 0, 1.125 * Inch},
		{"28.6 mm.", 0, 28.6 * Millimetre},
		{"1.125", Inch, 1.125 * Inch},
		{"1.125", Millimetre, 1.125 * Millimetre},
		{"28.6 mm", Inch, 28.6 * Millimetre},
		{"28,6 mm", Inch, 28.6 * Millimetre},
		{"0,125 in", 0, 0.125 * Inch},
		{"2.9cm", 0, 29 * Millimetre},
		{"⅛ in", 0, 0.125 * Inch},
		{"⅛", Inch, 0.125 * Inch},
		{"1⅛”", 0, 1.125 * Inch},
		{"1 ⅛″", 0, 1.125 * Inch},
		{"1-⅛ inch", 0, 1.125 * Inch},
		{"1–1/8 inches", 0, 1.125 * Inch},
		{"1\u00a01⁄8 in", 0, 1.125 * Inch},
		{"3/4", Inch, 0.75 * Inch},
		{"3 / 4 inch", 0, 0.75 * Inch},
		{"3/4-inch", 0, 0.75 * Inch},
		{"9/8 in", 0, 1.125 * Inch},
		{".5 in", 0, 0.5 * Inch},
		{"1. in", 0, Inch},
		{"1 foot", 0, 12 * Inch},
		{"2 ft", 0, 24 * Inch},
		{"2'", 0, 24 * Inch},
		{"1 metre", 0, 1},
		{"1 Meter", 0, 1},
		{"2 yards", 0, 72 * Inch},
		{"  1 IN ", 0, Inch},
		{"0", 0, 0},
		{"0 mm", 0, 0},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseLength(tt.text, tt.unit)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(got-tt.want)) > 1e-15 {
				t.Errorf("got %.17g m, want %.17g m", float64(got), float64(tt.want))
			}
		})
	}
}

// Every vulgar fraction of Unicode's Number Forms and Latin-1 blocks.
func TestParseFractionCharacters(t *testing.T) {
	for text, want := range map[string]float64{
		"¼": 1. / 4, "½": 1. / 2, "¾": 3. / 4, "⅐": 1. / 7, "⅑": 1. / 9, "⅒": 1. / 10, "⅓": 1. / 3, "⅔": 2. / 3,
		"⅕": 1. / 5, "⅖": 2. / 5, "⅗": 3. / 5, "⅘": 4. / 5, "⅙": 1. / 6, "⅚": 5. / 6, "⅛": 1. / 8, "⅜": 3. / 8, "⅝": 5. / 8, "⅞": 7. / 8,
	} {
		if got, err := ParseLength(text, Metre); err != nil || float64(got) != want {
			t.Errorf("%s: %v, %v", text, float64(got), err)
		}
		if got, err := ParseLength("2"+text, Metre); err != nil || float64(got) != 2+want {
			t.Errorf("2%s: %v, %v", text, float64(got), err)
		}
	}
	for _, text := range []string{"⅟", "⅟8", "²", "Ⅷ", "é"} {
		if got, err := ParseLength(text, Metre); err == nil {
			t.Errorf("%s: %v, want an error", text, float64(got))
		}
	}
}

func TestParseLengthErrors(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"1/0", "1/0: a fraction's bottom can't be 0; try 1/8"},
		{"", `"": nothing written; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"3/4", `3/4: needs a unit; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"-3 mm", `-3 mm: can't be below zero; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"big", `big: doesn't start with a number; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"3 furlongs", `3 furlongs: furlongs is not a unit known here; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"1,125 in", `1,125 in: the comma may mark decimals or thousands; try 1.125 or 1125`},
		{"1 9/8 in", `1 9/8 in: the fraction after a whole number must be below 1; try 1-1/8`},
		{"1/ in", `1/ in: the fraction has no bottom; try 1/8`},
		{"1/2/3 in", `1/2/3 in: isn't a fraction; try 1/8`},
		{"1 2 in", `1 2 in: reads as two numbers; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"1e9 in", `1e9 in: e9 in is not a unit known here; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"99999999 in", `99999999 in: too large to be meant; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"NaN", `NaN: doesn't start with a number; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"1\x1b[2J in", `"1\x1b[2J in": "\x1b[2j in" is not a unit known here; try 1-1/8 in, 1.125" or 28.6 mm`},
		{strings.Repeat("9", 65), strings.Repeat("9", 64) + `…: too long to be a measure; try 1-1/8 in, 1.125" or 28.6 mm`},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseLength(tt.text, 0)
			var pe *ParseError
			if !errors.As(err, &pe) {
				t.Fatalf("got %v and error %v, want a *ParseError", got, err)
			}
			if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
				t.Errorf("error (-want +got):\n%s", diff)
			}
		})
	}
}

func TestParseMass(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Mass
	}{
		{"22 g", 22 * Gram},
		{"22g", 22 * Gram},
		{"0.05 kg", 50 * Gram},
		{"50", 50 * Gram},
		{"1 1/2 oz", 1.5 * Ounce},
		{"½ lb", 8 * Ounce},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseMass(tt.text, Gram)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(got-tt.want)) > 1e-15 {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
	for _, text := range []string{"", "g", "-1 g", "1 in", "1/0 g", "9999 kg"} {
		if got, err := ParseMass(text, Gram); err == nil {
			t.Errorf("ParseMass(%q) = %v, want an error", text, got)
		}
	}
}

func TestParseMoney(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Money
	}{
		{"4.50", 450}, {"4", 400}, {"4.5", 450}, {"4,50", 450}, {"$4.50", 450}, {"4.50 €", 450}, {"0", 0}, {"0.05", 5},
	} {
		if got, err := ParseMoney(tt.text); err != nil || got != tt.want {
			t.Errorf("ParseMoney(%q) = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
	for _, text := range []string{"", "$", "-1", "4.505", "4.", ".50", "1e3", "4.50x", "99999999999999999999", "2000000", "4-50"} {
		if got, err := ParseMoney(text); err == nil {
			t.Errorf("ParseMoney(%q) = %v, want an error", text, got)
		}
	}
}

func TestParseNote(t *testing.T) {
	for _, tt := range []struct {
		text, name string
		want       Note
	}{
		{"A4", "A4", 69}, {"c4", "C4", 60}, {"F#3", "F#3", 54}, {"Gb3", "F#3", 54}, {"f♯3", "F#3", 54}, {"G♭3", "F#3", 54},
		{"b3", "B3", 59}, {"bb3", "A#3", 58}, {"Cb4", "B3", 59}, {"B#3", "C4", 60}, {"E#4", "F4", 65},
		{"C-1", "C-1", 0}, {"C−1", "C-1", 0}, {"G9", "G9", 127}, {" c 2 ", "C2", 36},
	} {
		got, err := ParseNote(tt.text)
		if err != nil || got != tt.want || got.String() != tt.name {
			t.Errorf("ParseNote(%q) = %d %v, %v; want %d %s", tt.text, got, got, err, tt.want, tt.name)
		}
	}
	for _, tt := range []struct{ text, want string }{
		{"", `"": no note written; try C2, F#3 or Bb4`},
		{"C", "C: the note has no octave; try C4"},
		{"H3", "H3: notes are named A to G, and the note below C is B; try B3"},
		{"C10", "C10: is outside C-1 to G9; try C2, F#3 or Bb4"},
		{"G#9", "G#9: is outside C-1 to G9; try C2, F#3 or Bb4"},
		{"Cb-1", "Cb-1: is outside C-1 to G9; try C2, F#3 or Bb4"},
		{"X4", "X4: isn't a note; try C2, F#3 or Bb4"},
		{"C+4", "C+4: isn't a note; try C2, F#3 or Bb4"},
		{"C4x", "C4x: isn't a note; try C2, F#3 or Bb4"},
	} {
		got, err := ParseNote(tt.text)
		if err == nil {
			t.Errorf("ParseNote(%q) = %v, want an error", tt.text, got)
			continue
		}
		if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
			t.Errorf("ParseNote(%q) (-want +got):\n%s", tt.text, diff)
		}
	}
}

// ISO 16:1975 sets A4 = 440 Hz (from memory). The others are the customary
// equal-tempered table to three decimals, derived from it.
func TestNoteHz(t *testing.T) {
	for name, want := range map[string]float64{
		"A4": 440, "C2": 65.406, "F2": 87.307, "A2": 110, "C3": 130.813, "F3": 174.614, "C4": 261.626,
		"F4": 349.228, "C5": 523.251, "G5": 783.991, "F6": 1396.913, "C7": 2093.005, "C8": 4186.009,
	} {
		n, err := ParseNote(name)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(n.Hz()-want) > 0.0005 {
			t.Errorf("%s = %.4f Hz, want %.3f", name, n.Hz(), want)
		}
	}
}

func TestNoteStringOutsideTheNames(t *testing.T) {
	for n, want := range map[Note]string{-1: "B-2", -12: "C-2", -13: "B-3", 128: "G#9", 132: "C10"} {
		if got := n.String(); got != want {
			t.Errorf("%d: %s, want %s", int(n), got, want)
		}
	}
}

func TestNoteNear(t *testing.T) {
	for n := LowestNote; n <= HighestNote; n++ {
		for _, cents := range []float64{-49, 0, 49} {
			if got := NoteNear(n.Hz() * math.Exp2(cents/1200)); got != n {
				t.Errorf("%v and %v cents is nearest %v", n, cents, got)
			}
		}
	}
	for _, hz := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		if got := NoteNear(hz); got != LowestNote {
			t.Errorf("NoteNear(%v) = %v", hz, got)
		}
	}
	if got := NoteNear(math.Inf(1)); got != HighestNote {
		t.Errorf("NoteNear(+Inf) = %v", got)
	}
}

func TestLengthText(t *testing.T) {
	for _, tt := range []struct {
		l    Length
		want string
	}{
		{1.125 * Inch, "1 1/8 in (28.6 mm)"},
		{Inch, "1 in (25.4 mm)"},
		{Inch / 32, "1/32 in (0.79 mm)"},
		{63 * Inch / 64, "63/64 in (25 mm)"},
		{1.34 * Inch, "1.34 in (34 mm)"},
		{2.5 * Millimetre, "2.5 mm"},
		{3 * Millimetre, "3 mm"},
		{25 * Millimetre, "25 mm"},
		{Metre, "1 m"},
		{3.01 * Millimetre, "0.119 in (3.01 mm)"},
		{0, "0 in (0 mm)"},
		{-Inch / 8, "-1/8 in (-3.18 mm)"},
		{2 * Foot, "24 in (609.6 mm)"},
		{-1e-9, "0 in (0 mm)"},
	} {
		if got := tt.l.String(); got != tt.want {
			t.Errorf("%g m: got %q, want %q", float64(tt.l), got, tt.want)
		}
	}
	for _, l := range []Length{Length(math.NaN()), Length(math.Inf(1)), 1e300} {
		if l.String() == "" {
			t.Errorf("%g m: no text", float64(l))
		}
	}
}

func TestMassAndMoneyText(t *testing.T) {
	for got, want := range map[string]string{
		(22.34 * Gram).String():  "22.3 g",
		(0.127 * Gram).String():  "0.13 g",
		Kilogram.String():        "1000 g",
		Money(450).String():      "4.50",
		Money(5).String():        "0.05",
		Money(-5).String():       "-0.05",
		Money(123456).String():   "1234.56",
		Money(-1 << 63).String(): "-92233720368547758.08",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// record is one of each quantity, as a catalogue record holds them.
type record struct {
	L Length `yaml:"l" json:"l"`
	M Mass   `yaml:"m" json:"m"`
	P Money  `yaml:"p" json:"p"`
	N Note   `yaml:"n" json:"n"`
}

func TestYAML(t *testing.T) {
	var got record
	if err := yaml.Unmarshal([]byte("l: 1-1/8 in\nm: 50 g\np: 4.50\nn: F#3\n"), &got); err != nil {
		t.Fatal(err)
	}
	want := record{1.125 * Inch, 50 * Gram, 450, 54}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	err := yaml.Unmarshal([]byte("l: 1/0 in\nm: [50]\np: x\nn: H3\n"), &got)
	if err == nil {
		t.Fatal("no error")
	}
	wantErr := `yaml: unmarshal errors:
  line 1: 1/0 in: a fraction's bottom can't be 0; try 1/8
  line 2: want a single value here, not a list or a map
  line 3: x: isn't an amount; try 4.50
  line 4: H3: notes are named A to G, and the note below C is B; try B3`
	if diff := cmp.Diff(wantErr, err.Error()); diff != "" {
		t.Errorf("error (-want +got):\n%s", diff)
	}
}

func TestMarshalRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := record{
			L: Length(rapid.Float64Range(1e-9, float64(MaxLength)).Draw(t, "l")),
			M: Mass(rapid.Float64Range(1e-12, float64(MaxMass)).Draw(t, "m")),
			P: Money(rapid.Int64Range(0, int64(MaxMoney)).Draw(t, "p")),
			N: Note(rapid.IntRange(int(LowestNote), int(HighestNote)).Draw(t, "n")),
		}
		if rapid.Bool().Draw(t, "fraction") {
			want.L = Length(rapid.IntRange(1, 640).Draw(t, "64ths")) * Inch / 64
		}
		var fromJSON, fromYAML record
		text, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &fromJSON); err != nil || fromJSON != want {
			t.Fatalf("JSON %s read back as %+v, %v", text, fromJSON, err)
		}
		if text, err = yaml.Marshal(want); err != nil {
			t.Fatal(err)
		}
		if err := yaml.Unmarshal(text, &fromYAML); err != nil || fromYAML != want {
			t.Fatalf("YAML %s read back as %+v, %v", text, fromYAML, err)
		}
	})
	for _, v := range []any{Length(-1), Length(math.NaN()), Length(math.Inf(1)), Mass(-1), Money(-1), Note(128)} {
		if text, err := json.Marshal(v); err == nil {
			t.Errorf("%T %v was written as %s", v, v, text)
		}
	}
}

// A printed fraction reads back as the length to within 0.0005 in.
func TestFractionReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Float64Range(0, 10).Draw(t, "in")) * Inch
		text, exact := l.Fraction()
		back, err := ParseLength(text, Inch)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Abs((back - l).Inches())
		if off > 1.0/128+1e-12 || exact != (off <= exactInch) {
			t.Fatalf("%v in printed as %s, %v in off, exact %v", l.Inches(), text, off, exact)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{`1-1/8"`, "1 1/8 in", "⅛", "28,6 mm", "1/0", "1 2/3/4", "1-⅛-inch", "1.1.1", "9/0000000001", "\xff1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLength(text, Inch)
		if err != nil {
			if l != 0 || strings.ContainsAny(err.Error(), "\x00\x1b\n\r") {
				t.Fatalf("ParseLength(%q) = %v, %q", text, l, err)
			}
			return
		}
		if !(l >= 0 && l <= MaxLength) {
			t.Fatalf("ParseLength(%q) = %g", text, float64(l))
		}
		if l >= 1e-9 {
			back, err := l.MarshalText()
			if err != nil {
				t.Fatal(err)
			}
			if again, err := ParseLength(string(back), 0); err != nil || again != l {
				t.Fatalf("%q is %g m, written %q, read %g m, %v", text, float64(l), back, float64(again), err)
			}
		}
	})
}

func FuzzParseMass(f *testing.F) {
	f.Add("22 g")
	f.Add("1 1/2 oz")
	f.Fuzz(func(t *testing.T, text string) {
		if m, err := ParseMass(text, Gram); !(m >= 0 && m <= MaxMass) || (err != nil && m != 0) {
			t.Fatalf("ParseMass(%q) = %g, %v", text, float64(m), err)
		}
	})
}

func FuzzParseMoney(f *testing.F) {
	f.Add("4.50")
	f.Add("$4,5")
	f.Fuzz(func(t *testing.T, text string) {
		m, err := ParseMoney(text)
		if err != nil {
			return
		}
		if again, err := ParseMoney(m.String()); err != nil || again != m || m < 0 || m > MaxMoney {
			t.Fatalf("ParseMoney(%q) = %v, read back %v, %v", text, m, again, err)
		}
	})
}

func FuzzParseNote(f *testing.F) {
	f.Add("F#3")
	f.Add("C-1")
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ParseNote(text)
		if err != nil {
			return
		}
		if again, err := ParseNote(n.String()); err != nil || again != n {
			t.Fatalf("ParseNote(%q) = %v, read back %v, %v", text, n, again, err)
		}
	})
}

// A number without a unit is in the one that could be meant, or asked about.
func TestLikely(t *testing.T) {
	for _, c := range []struct {
		text string
		want Length
		err  string
	}{
		{"36.8", 36.8 * Millimetre, ""},
		{"1 3/8", 1.375 * Inch, ""},
		{"1.4 mm", 1.4 * Millimetre, ""},
		{"0.02", 0.02 * Millimetre, ""},
		{"", 0, "no number"},
	} {
		got, err := LikelyLength(c.text, 10*Millimetre, 80*Millimetre)
		if c.err == "" && (err != nil || math.Abs(float64(got/c.want-1)) > 1e-12) || c.err != "" && err == nil {
			t.Errorf("%q is %v, %v; want %v %s", c.text, got, err, c.want, c.err)
		}
	}
	if m, err := LikelyMass("0.8", 2*Gram, 120*Gram); err != nil || math.Abs(float64(m/Ounce-0.8)) > 1e-12 {
		t.Errorf("0.8 is %v, %v", m, err)
	}
	for _, text := range []string{"3", "2.5"} {
		if _, err := LikelyMass(text, 2*Gram, 120*Gram); err == nil || !strings.Contains(err.Error(), "could be g or oz") {
			t.Errorf("%s: %v", text, err)
		}
	}
}
