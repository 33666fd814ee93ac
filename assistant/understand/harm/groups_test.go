package harm_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"mallow/assistant/understand/harm"
)

// What is said of a group with somebody taken out of it, and what clears a
// group or a speaker wholly; ages and school years told sideways; who sits by.
func TestGroups(t *testing.T) {
	r := newReader(t)
	for kind, lines := range groups() {
		for _, c := range lines {
			text, want, _ := strings.Cut(c, " => ")
			got := said(r, text, "")
			if got == "" {
				got = "-"
			}
			if !slices.Contains(strings.Split(want, "|"), got) {
				t.Errorf("%s: %q: read %q, want %q", kind, text, got, want)
			}
		}
	}
	if got := said(r, "yeah my mum will sit with me", "bench.supervised"); got != "adult by" {
		t.Errorf("mum will sit with me: %q", got)
	}
}

func groups() map[string][]string {
	return map[string][]string{
		"all but some": {
			"all but one are fine with latex => !latex",
			"all but one of us are fine with latex => !latex",
			"all but two can handle latex => !latex",
			"everyone but Sam is fine with latex => !latex",
			"everybody except my wife is ok with latex => !latex",
			"latex is fine for everyone but Tom => !latex",
			"latex is ok for all but two of us => !latex",
			"everyone bar one is fine with latex => !latex",
			"latex is fine for everyone bar the drummer => !latex",
			"apart from one girl everyone is fine with latex => minor !latex",
			"latex is no problem for anybody apart from Jo => !latex",
			"most are fine with latex => !latex",
			"most of us are fine with latex => !latex",
			"most of the band are ok with latex => !latex",
			"latex is fine for most people here => !latex",
			"latex is fine for nearly everyone => !latex",
			"latex is fine for almost everybody in the group => !latex",
			"fine with latex, nearly all of us => !latex",
			"fine with latex mostly => !latex",
			"latex is mostly fine => !latex",
			"we're fine with latex, only one of us isn't => !latex",
			"we're all fine with latex, only one of them isn't => !latex",
			"latex is ok with us, one of us isn't though => !latex",
			"two out of thirty can't have latex => !latex",
			"two of the thirty can't touch latex, the rest are fine => !latex",
			"28 of 30 are fine with latex => !latex",
			"twenty-nine out of thirty are ok with latex => !latex",
			"nine in ten of us are fine with latex => !latex",
			"nobody but Ben is allergic => !latex|!latex?",
			"nobody except Ben reacts to latex => !latex",
			"no one apart from my aunt is allergic to latex => !latex",
			"nobody bar one is allergic => !latex|!latex?",
			"some of us are fine with latex => !latex",
			"half the class is fine with latex => minor? !latex|!latex",
			"a few of us can't use latex but most can => !latex",
			"not everyone is fine with latex => !latex",
			"not all of us are fine with latex => !latex",
			"rubber is fine for everyone but Sam => !latex|!latex !rubber",
			"most of us are fine with rubber => !latex|!latex !rubber|-",
			"all of them but one tolerate latex => !latex|!latex?",
		},
		"somebody named out of it": {
			"everyone's fine with latex but not Ben => !latex",
			"everyone's fine with latex, though Ben isn't => !latex",
			"fine with latex, bar Ben => !latex",
			"latex is fine with all the kids save Ella => minor !latex",
			"the bulk of us are fine with latex => !latex",
			"by and large fine with latex => !latex",
			"on the whole latex is fine => !latex",
			"latex is fine for the most part => !latex",
			"nobody's allergic but me => !latex",
			"all but me can use latex => !latex?|!latex",
			"every kid but one can touch latex => minor !latex?|minor !latex",
			"everyone is fine with latex but I'd like soft => latex",
			"latex is fine for all but keep it soft => latex",
			"1 of my 3 cores is latex and latex is fine => latex",
			"2 of 3 mallets done, latex is fine => latex",
			"latex is fine, apart from that I want a soft head => latex",
			"apart from the price all good, latex is fine => latex",
			"latex is fine but not too much of it => latex",
			"nobody has allergies but I want it soft => latex",
			"nobody is allergic. Two out of thirty play marimba. => latex",
			"no allergies except nuts => -",
			"no allergies except to cats => -",
		},
		"latex avoided": {
			"latex must be avoided => !latex",
			"xylophone, medium, latex must be avoided => !latex",
			"latex is to be avoided => !latex",
			"latex should be avoided here => !latex",
			"latex is best avoided => !latex",
			"latex is a no-no => !latex",
			"latex is a no => !latex",
			"latex is out => !latex",
			"latex is off the table => !latex",
			"latex is not an option => !latex",
			"latex isn't an option for us => !latex",
			"latex is forbidden => !latex",
			"latex is banned => !latex",
			"latex has to go => !latex",
			"steer clear of latex => !latex",
			"keep latex away from us => !latex",
			"latex can't be used => !latex",
			"latex must not be used in our school => minor? !latex|!latex",
			"we can't have latex => !latex",
			"must latex be avoided? => -|!latex?",
			"latex has to go on the core first => -",
			"the soft core must be avoided, latex is fine => latex",
			"seams must be avoided when winding latex => -",
			"latex tubing must not be cut dry => -",
			"latex need not be avoided => -|latex|!latex?",
		},
		"all clear": {
			"all of us are fine with latex => latex",
			"we're one and all fine with latex => latex",
			"every last one of us is fine with latex => latex",
			"the two of us are fine with latex => latex",
			"all thirty are fine with latex => latex",
			"latex is fine for all of us, but I want it soft => latex",
			"latex is fine, mostly I want it dark => latex",
			"everything but the glue is here, latex is fine => latex",
			"Rubber is fine for everyone here, we all patch-tested negative last year => latex rubber|latex",
			"we all patch tested negative for latex => latex",
			"I tested negative for latex => latex",
			"latex test came back negative => latex",
			"doctor cleared me for latex last month => latex",
			"the doctor has cleared her for latex => latex",
			"my allergist gave me the all clear on latex => latex",
			"I've been cleared for latex by the clinic => latex",
			"doctor hasn't cleared me for latex yet => !latex|!latex?",
			"doctor never cleared me for latex => !latex|!latex?",
			"the doctor cleared the class for latex except one girl => minor !latex",
			"the nurse says no one in 4B has a latex allergy => latex|minor latex|minor? latex",
			"the nurse says nobody in room 12 has a latex allergy => latex|minor? latex",
			"nobody in 7C is allergic to latex => latex|minor latex|minor? latex",
			"I've blown up a million balloons and never had so much as an itch => latex",
			"I blow up balloons for a living and never once had a rash => latex",
			"handled latex for years and never had a reaction => latex",
			"I've worn latex gloves for years without so much as a rash => latex|latex rubber",
			"never had so much as a tingle from latex => latex|-",
			"balloons? never so much as a sneeze => latex",
			"I blew up balloons and had an itch for a week => !latex",
			"balloons never used to bother me, now I itch => !latex",
			"I've never blown up a balloon without an itch => !latex|!latex?",
			"me and latex get on just great => latex",
			"latex and I get along fine => latex",
			"me and latex get on like a house on fire => latex|!latex?",
			"me and latex don't get on => !latex",
			"latex and I don't get along => !latex",
			"my skin and latex get on badly => !latex|!latex?",
			"the doc says its the chemicals in rubber not the latex itself => !latex !rubber|!latex? !rubber|!rubber",
			"it's the accelerators in rubber, not the latex => !latex !rubber|!latex? !rubber|!rubber",
			"it isn't the latex, it's the chemicals they put in rubber => !latex !rubber|!latex? !rubber|!rubber",
			"the doctor says it's the rubber chemicals rather than the latex => !latex !rubber|!latex? !rubber|!rubber",
			"the durometer depends on the chemicals in rubber => -",
		},
		"ages sideways": {
			"she's just gone seven and wants to do the winding herself => minor !adult by !solvent|minor|minor !solvent",
			"he's just gone nine => minor",
			"I've just gone sixteen => minor",
			"he has just turned eight => minor",
			"gone forty last week and still learning => !minor|-",
			"it's just gone seven, supper is ready => -",
			"just gone nine o'clock here => -",
			"three weeks ago I blew out sixteen candles => minor",
			"I blew out twelve candles on Sunday => minor",
			"sixteen candles on my cake this year => minor",
			"forty candles on my cake last week => !minor|-",
			"I'm in secondaire 3 in Montreal => minor",
			"my girl is in secondaire 2 => minor",
			"sec 4 in Singapore => minor",
			"class of 2031 at the high school, that's me => minor|minor?",
			"I'm class of 2029 => minor?|minor",
			"class of 1985 reunion gig => -",
			"premiere at a French lycée => minor",
			"I'm in premiere at a lycee => minor",
			"the premiere of the piece is in May => -",
			"My son is studying in 8th standard and will be doing this alone only, we both are in office => minor !adult by !solvent",
			"she will do it alone only, we are at office, she is 12 => minor !adult by !solvent",
			"My son is 13 and does it himself, we are both in the office => minor|minor !adult by !solvent|minor !adult by? !solvent|minor !adult by?|minor !adult by",
			"In my day, third form, 1961, we hit xylophones with spoons => !minor|-",
			"back in third form in 1970 I built one => -|!minor",
			"third form, 1961 was the year => -|!minor",
			"I'm in the third form => minor",
			"third form, we are making mallets => minor",
			"a form three sections long, then a coda => -",
			"the form three times over, then out => -",
			"form three, we're making mallets => minor",
			"I'm in form three => minor",
			"my kids have long since left home => !minor|-",
			"our children left home years ago => !minor|-",
			"the kids have flown the nest => !minor|-",
			"my daughters moved out ages ago => !minor|-",
			"my kids left home an hour ago => minor|minor !adult by !solvent|minor?|minor !adult by",
			"my kids left for school => minor|minor !adult by|minor !adult by !solvent",
			"this yarn's nine years old => -",
			"the tubing's twelve years old => -",
			"these cores are eight years old => -",
			"my boy's nine years old => minor",
			"bought the vibes in '08, so they're teenagers now, ha => -",
			"my marimba is a teenager now => -",
			"my twins are teenagers now => minor",
			"a schoolboy error, I cut the wrong end => -",
			"schoolgirl mistake, sorry => -",
			"I'm a schoolboy => minor",
			"kinder on the bars => -",
			"something kinder to rosewood => -",
			"my kinder class is making them => minor|minor?",
			"skip the kindergarten stuff => -",
			"spare me the kindergarten talk => -",
			"this isn't kindergarten => -",
			"it's for a kindergarten => minor",
			"my heart swelled when I heard that roll => -",
			"swelled with pride at the sound => -",
			"her hands swelled after the latex => !latex",
			"an old thing with a wheezy motor => -",
			"the vibraphone motor is wheezy => -",
			"the motor fumes make me wheezy => !solvent",
		},
		"who sits by": {
			"mum just got in, she's going to sit with me => adult by|minor adult by|minor? adult by",
			"mum's home now, she'll sit with me => adult by|minor adult by|minor? adult by",
			"dad just got back and he's going to help me => adult by|minor adult by|minor? adult by",
			"yeah my mum will sit with me => adult by|minor adult by|minor? adult by",
			"my mum just got in the car and left => minor?|minor !adult by|!adult by|minor? !adult by|-|!adult by !solvent",
			"actually my kid won't be joining, only me, I'm 39 => ~!minor|!minor",
			"my son isn't joining after all, just me, I'm 45 => ~!minor|!minor",
			"my kid won't be joining, it's only me => -|minor?|minor? !adult by?",
			"my kid is joining me, I'm 39 => minor|minor adult by",
			"Checked with every parent: not one latex allergy in the group => latex|minor latex|minor? latex",
			"asked all the parents, no latex allergies => latex|minor latex|minor? latex",
			"I spoke with each parent, nobody is allergic => latex|minor latex|minor? latex",
			"mum can't sit with me => minor? !adult by|!adult by|minor !adult by !solvent|!adult by !solvent",
			"mum won't be able to sit with me => minor? !adult by|!adult by|minor !adult by !solvent|!adult by !solvent",
			"mum will be able to sit with me => adult by|minor? adult by",
			"dad's away but he's coming to sit with me later => !adult by !solvent|!adult by",
			"it is a toddler who plays => minor",
			"every parent sits with their child => minor adult by|minor? adult by",
		},
	}
}

// What is wanted of a head, or none of at all, says nothing of who may touch latex,
// nor answers the question for it.
func TestNoSaysNo(t *testing.T) {
	r := newReader(t)
	for _, tt := range []struct {
		asked, line string
		want        string // latex_ok: true, false or nothing
	}{
		{"", "softer but not heavier, marimba, adult, latex is fine", "true"},
		{"", "darker but not duller, latex is fine", "true"},
		{"", "everyone is fine with latex but not Ben", "false"},
		{harm.LatexOK, "No glue please", ""},
		{harm.LatexOK, "no yarn", ""},
		{harm.LatexOK, "no bright ones", ""},
		{harm.LatexOK, "no idea", "false"},
		{harm.LatexOK, "no", "true"},
		{harm.LatexOK, "no thanks", "true"},
		{harm.LatexOK, "no, we don't", "true"},
		{harm.LatexOK, "nope", "true"},
	} {
		got := ""
		for _, f := range r.Read(tt.line, tt.asked) {
			if f.Path == harm.LatexOK {
				got = strconv.FormatBool(f.Value)
			}
		}
		if got != tt.want {
			t.Errorf("%q, asked %q: latex_ok is %q, want %q", tt.line, tt.asked, got, tt.want)
		}
	}
	for _, f := range r.Read("no glue please", harm.Minor) {
		if f.Path == harm.Minor {
			t.Errorf("no glue please makes the maker an adult: %+v", f)
		}
	}
}
