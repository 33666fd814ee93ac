// Package knowledge is what mallow knows: parts, materials, instruments,
// grips, words, steps, cautions and limits, read from YAML that a maker can
// read and dispute, and checked as it is loaded.
//
// The package computes nothing. Values are SI; tolerances are the half-width
// of a band that holds about 95 % of parts.
package knowledge

import (
	"fmt"
	"slices"

	"mallow/knowledge/measure"
	"mallow/knowledge/yamlfile"
)

// Origin says where a record was read, for messages such as
// "from your parts file, line 12".
type Origin struct {
	File string // the name of the file in the base, or the overlay's name
	Line int    // 1-based
	Own  bool   // in an overlay: the user's own
	// Over is the record that this one changed; nil for one that stands alone.
	Over *Origin
}

// String returns "cores.yaml, line 8", and for a changed record what it
// changed: "your parts file, line 12, over cores.yaml, line 8".
func (o Origin) String() string {
	s := fmt.Sprintf("%s, line %d", o.File, o.Line)
	if o.Over != nil {
		s += ", over " + o.Over.String()
	}
	return s
}

// Source is where a figure comes from.
type Source struct {
	ID   string `yaml:"id"`
	Cite string `yaml:"cite"`
	// Mark is seen, second-hand, memory, practice, derived, assumption or demo.
	Mark   string `yaml:"mark"`
	Origin Origin `yaml:"-"`
}

// Quantity is a physical value with its tolerance and source. The unit is in
// the name of the field that holds it.
type Quantity struct {
	Value  float64 `yaml:"value"`
	Tol    float64 `yaml:"tol"`
	Source string  `yaml:"source"`
}

// ReadYAML sets q from its fields, or its value alone from a plain number.
func (q *Quantity) ReadYAML(n yamlfile.Node) {
	if n.Scalar() {
		n.Set(&q.Value)
	} else {
		n.Fields(q)
		if !n.Gives("value") || n.Gives("source") {
			return
		}
	}
	if n.Overlay() {
		q.Source = own
	}
}

// Material is anything a part is made of. A field that has no meaning for
// the material's family is zero.
type Material struct {
	ID     string `yaml:"id"`
	Name   string `yaml:"name"`
	Family string `yaml:"family"` // plastic, wood, rubber, metal, fibre, fibreglass
	Latex  bool   `yaml:"latex"`  // contains natural rubber
	// Chemicals says that it may hold what cures and protects rubber, which
	// some people react to without any latex.
	Chemicals bool `yaml:"chemicals"`

	DensityKgM3 Quantity `yaml:"density_kgm3"`
	// ModulusPa is Young's modulus at rest. Rubbers leave it empty and give
	// DurometerA instead, from which the strike model derives it.
	ModulusPa  Quantity `yaml:"modulus_pa"`
	Poisson    Quantity `yaml:"poisson"`
	LossFactor Quantity `yaml:"loss_factor"` // energy lost over energy stored in one squeeze, 0..1
	DurometerA Quantity `yaml:"durometer_a"` // Shore A of the material as sold
	// Impact is how many times stiffer it is in a blow of some milliseconds
	// than at rest; 0 is 1.
	Impact Quantity `yaml:"impact"`

	StretchLimit Quantity `yaml:"stretch_limit"` // stretch at break, rubbers only
	Solvents     string   `yaml:"solvents"`      // how it stands petroleum solvents: good, fair, poor

	Source string `yaml:"source"`
	Origin Origin `yaml:"-"`
}

// Core is a ball core with or without a drilled bore for the shaft.
type Core struct {
	ID       string         `yaml:"id"`
	Name     string         `yaml:"name"`
	Material string         `yaml:"material"`
	Diameter measure.Length `yaml:"diameter"`
	Tol      measure.Length `yaml:"tol"`  // on the diameter
	Bore     measure.Length `yaml:"bore"` // zero when sold undrilled
	// DurometerA overrides the material's for a rubber ball of a stated
	// hardness; DurometerD says it on the D scale, for harder ones.
	DurometerA float64 `yaml:"durometer_a"`
	DurometerD float64 `yaml:"durometer_d"`
	// Supply is where a size like this is sold: inch or metric; empty is everywhere.
	Supply string `yaml:"supply"`
	// Usual is how many makers in a hundred mean this part by a word that fits
	// several; zero is rarely. Common practice, no source.
	Usual       float64       `yaml:"usual"`
	Price       measure.Money `yaml:"price"`
	PriceSource string        `yaml:"price_source"` // of Price and Pack
	Pack        int           `yaml:"pack"`         // balls in a pack
	Source      string        `yaml:"source"`
	Origin      Origin        `yaml:"-"`
}

// Tube is a stock size of rubber tubing, unstretched.
type Tube struct {
	ID          string         `yaml:"id"`
	Material    string         `yaml:"material"`
	Bore        measure.Length `yaml:"bore"`
	Wall        measure.Length `yaml:"wall"`
	BoreTol     measure.Length `yaml:"bore_tol"`
	WallTol     measure.Length `yaml:"wall_tol"`
	Supply      string         `yaml:"supply"` // see Core.Supply
	Usual       float64        `yaml:"usual"`  // see Core.Usual
	Pack        measure.Length `yaml:"pack"`   // length sold at Price
	Price       measure.Money  `yaml:"price"`
	PriceSource string         `yaml:"price_source"` // of Price and Pack
	Source      string         `yaml:"source"`
	Origin      Origin         `yaml:"-"`
}

// Yarn is a yarn or cord for the outer wrap.
type Yarn struct {
	ID          string        `yaml:"id"`
	Name        string        `yaml:"name"`
	Fibre       string        `yaml:"fibre"` // a Material of family fibre
	Tex         Quantity      `yaml:"tex"`   // grams per kilometre, as measured off the skein
	Plies       int           `yaml:"plies"`
	Loose       Quantity      `yaml:"loose"`    // fibre volume fraction as it comes off the skein
	CrushPa     Quantity      `yaml:"crush_pa"` // van Wyk's constant times the fibres' modulus, one number
	Wraps       WrapChoices   `yaml:"wraps"`
	Usual       float64       `yaml:"usual"` // see Core.Usual
	Pack        measure.Mass  `yaml:"pack"`  // skein sold at Price
	Price       measure.Money `yaml:"price"`
	PriceSource string        `yaml:"price_source"` // of Price and Pack
	Source      string        `yaml:"source"`
	Origin      Origin        `yaml:"-"`
}

// WrapChoices are the turns of a light, plain and full wrap on a head of
// about 1 1/4 in; a larger head takes more in proportion to its diameter.
type WrapChoices struct {
	Light, Plain, Full int
}

// Shaft is a stick or a length of rod.
type Shaft struct {
	ID          string         `yaml:"id"`
	Name        string         `yaml:"name"`
	Material    string         `yaml:"material"`
	Length      measure.Length `yaml:"length"`
	Stock       measure.Length `yaml:"stock"` // length as sold, to be cut to Length; zero when it is sold so
	Diameter    measure.Length `yaml:"diameter"`
	Mass        measure.Mass   `yaml:"mass"`
	MassTol     measure.Mass   `yaml:"mass_tol"`
	BendingNm2  float64        `yaml:"bending_nm2"` // resistance to bending, modulus times moment of area; zero takes the usual rod's
	Supply      string         `yaml:"supply"`      // see Core.Supply
	Usual       float64        `yaml:"usual"`       // see Core.Usual
	Price       measure.Money  `yaml:"price"`
	PriceSource string         `yaml:"price_source"` // of Price and Pack
	Pack        int            `yaml:"pack"`
	Source      string         `yaml:"source"`
	Origin      Origin         `yaml:"-"`
}

// Adhesive joins a slice, a knot or a shaft.
type Adhesive struct {
	ID          string        `yaml:"id"`
	Name        string        `yaml:"name"`
	Base        string        `yaml:"base"`  // water, solvent, reactive; none for thread
	Joins       []string      `yaml:"joins"` // rubber-core, rubber-rubber, core-shaft, yarn-end
	Bonds       []string      `yaml:"bonds"` // core-shaft alone: materials, or families of them, that it holds on
	Latex       bool          `yaml:"latex"`
	Chemicals   bool          `yaml:"chemicals"`  // as of a material
	OpenMin     Quantity      `yaml:"open_min"`   // minutes before closing the joint
	CureHour    Quantity      `yaml:"cure_hours"` // hours before playing
	FilmGM2     Quantity      `yaml:"film_gm2"`   // dry film left on the joint
	Hazards     []string      `yaml:"hazards"`    // caution ids
	Solvents    []string      `yaml:"solvents"`   // Solvent ids that the usual formula holds
	Price       measure.Money `yaml:"price"`
	PriceSource string        `yaml:"price_source"` // of Price and Pack
	Source      string        `yaml:"source"`
	Origin      Origin        `yaml:"-"`
}

// BondsOn reports whether the adhesive holds a shaft in a core of a material.
func (a Adhesive) BondsOn(m Material) bool {
	return slices.Contains(a.Bonds, m.ID) || slices.Contains(a.Bonds, m.Family)
}

// Solvent carries the published hazard figures of one solvent.
type Solvent struct {
	ID     string    `yaml:"id"`
	Name   string    `yaml:"name"`
	FlashC *Quantity `yaml:"flash_c"` // flash point, degrees Celsius; nil when it has none
	LELPct *Quantity `yaml:"lel_pct"` // lower explosive limit, per cent by volume
	PELPpm *Quantity `yaml:"pel_ppm"` // legal limit, 8 h average
	RELPpm *Quantity `yaml:"rel_ppm"` // recommended limit, 10 h average
	Avoid  bool      `yaml:"avoid"`   // never to be used at the bench
	Note   string    `yaml:"note"`
	Source string    `yaml:"source"`
	Origin Origin    `yaml:"-"`
}

// Tool is something on the bench.
type Tool struct {
	ID     string `yaml:"id"`
	Name   string `yaml:"name"`
	For    string `yaml:"for"`
	Or     string `yaml:"or"` // how to get it, or what to take instead
	Source string `yaml:"source"`
	Origin Origin `yaml:"-"`
}

// Instrument is a keyboard percussion instrument.
type Instrument struct {
	ID     string       `yaml:"id"`
	Name   string       `yaml:"name"`
	Kind   string       `yaml:"kind"`   // marimba, vibraphone, xylophone, bells
	Bars   string       `yaml:"bars"`   // wood, synthetic, metal
	Low    measure.Note `yaml:"low"`    // lowest sounding note
	High   measure.Note `yaml:"high"`   // highest sounding note
	Ratios []float64    `yaml:"ratios"` // tuned partials over the fundamental, ratios[0] = 1
	// BarMass is the bar's mass at some notes; between them its logarithm is
	// linear in pitch.
	BarMass       []BarMass `yaml:"bar_mass"`
	BarMassSource string    `yaml:"bar_mass_source"`
	LossFactor    Quantity  `yaml:"loss_factor"` // of a bar
	SurfacePa     Quantity  `yaml:"surface_pa"`  // what a bar's top puts against a hard head: its modulus through the thickness
	Resonators    bool      `yaml:"resonators"`
	Source        string    `yaml:"source"`
	Origin        Origin    `yaml:"-"`
}

// BarMass is the bar that sounds Note: its mass, and how freely it moves where
// it is struck. A bar without shapes is taken as one of even thickness.
type BarMass struct {
	Note measure.Note `yaml:"note"`
	Mass measure.Mass `yaml:"mass"`
	// Whole is the bar's mass over the mass felt as it moves whole.
	Whole float64 `yaml:"whole"`
	// Ratios are its own partials over the fundamental where they are not the
	// instrument's.
	Ratios []float64 `yaml:"ratios"`
	// Shapes are the displacements of the first three bending modes where it
	// is struck, scaled so that the square averages 1 over the bar by mass.
	Shapes []float64 `yaml:"shapes"`
}

// Grip is a way of holding mallets.
type Grip struct {
	ID       string         `yaml:"id"` // two, cross, independent
	Name     string         `yaml:"name"`
	Mallets  int            `yaml:"mallets"`
	EasyMass measure.Mass   `yaml:"easy_mass"` // head mass that stays comfortable
	MostMass measure.Mass   `yaml:"most_mass"` // head mass past which it is refused
	MostSize measure.Length `yaml:"most_size"` // head diameter past which heads meet
	Source   string         `yaml:"source"`
	Origin   Origin         `yaml:"-"`
}

// Dynamic is a loudness and the head speed that stands for it.
type Dynamic struct {
	ID      string   `yaml:"id"` // p, mf, f, ff
	SpeedMS Quantity `yaml:"speed_ms"`
	Origin  Origin   `yaml:"-"`
}

// Step is one step of a build, in words with {facts} in braces. The rules
// choose which steps a head needs.
type Step struct {
	ID       string   `yaml:"id"`
	Order    float64  `yaml:"order"`
	Each     string   `yaml:"each"` // layer when the step is done once per layer
	Title    string   `yaml:"title"`
	Text     string   `yaml:"text"`
	Check    string   `yaml:"check"`  // what to measure and expect
	IfOff    string   `yaml:"if_off"` // what to do when the check fails
	Undo     string   `yaml:"undo"`
	More     string   `yaml:"more"`     // why, and what else there is to know, for who asks
	Optional bool     `yaml:"optional"` // the head is whole without it
	WaitMin  string   `yaml:"wait_min"` // minutes, an expression over the facts; empty for none
	WorkMin  string   `yaml:"work_min"` // minutes of work for one head, likewise
	Skill    string   `yaml:"skill"`    // 0 anyone can, 1 takes some practice, 2 is for practised hands; likewise
	Once     bool     `yaml:"once"`     // done once for all heads
	Job      bool     `yaml:"job"`      // given by a job and not by rules
	Tools    []string `yaml:"tools"`
	Apart    bool     `yaml:"apart"` // as of a Caution: an adult does it beforehand for a minor who is alone
	Cautions []string `yaml:"cautions"`
	Source   string   `yaml:"source"`
	Origin   Origin   `yaml:"-"`
}

// Caution is a hazard, what to do about it, and whom to defer to.
type Caution struct {
	ID     string `yaml:"id"`
	Name   string `yaml:"name"` // how a line names it; empty for its id
	Hazard string `yaml:"hazard"`
	Do     string `yaml:"do"`
	Defer  string `yaml:"defer"` // label, safety data sheet, local rules, responsible person
	Adult  bool   `yaml:"adult"` // not for a minor, even supervised
	Apart  bool   `yaml:"apart"` // not for a minor who is alone: an adult does such a step beforehand
	Source string `yaml:"source"`
	Origin Origin `yaml:"-"`
}

// Term is a glossary entry.
type Term struct {
	ID     string   `yaml:"id"`
	Also   []string `yaml:"also"`
	Means  string   `yaml:"means"`
	Source string   `yaml:"source"`
	Origin Origin   `yaml:"-"`
}

// Word maps what people say to a value in a slot, for example "mushy" to
// colour=dark. Package understand reads it.
type Word struct {
	ID     string   `yaml:"id"`
	Slot   string   `yaml:"slot"`
	Value  string   `yaml:"value"`
	Not    string   `yaml:"not"` // the value meant when the word is denied; empty rules Value out
	Say    []string `yaml:"say"` // the first is how it is said back
	Origin Origin   `yaml:"-"`
}

// Lesson is a prepared lesson: predict, then see.
type Lesson struct {
	ID      string         `yaml:"id"`
	Title   string         `yaml:"title"`
	Ask     string         `yaml:"ask"`
	Stacks  []string       `yaml:"stacks"` // the heads a, b, c, as stack text
	Choices []LessonChoice `yaml:"choices"`
	Same    float64        `yaml:"same"`   // measures no further apart than this are about the same
	Reveal  string         `yaml:"reveal"` // text with {a.softness} and the like in braces
	Source  string         `yaml:"source"`
	Origin  Origin         `yaml:"-"`
}

// LessonChoice is an answer that a learner may predict. The choice with the
// largest measure is right; one without a measure says that they are about
// the same.
type LessonChoice struct {
	Say     string `yaml:"say"`
	Measure string `yaml:"measure"` // a number over the facts of the heads, such as a.mass_g
}

// Limits are the thresholds that sort a fit into words and the allowances of
// the bench.
type Limits struct {
	SlackStretch  Quantity `yaml:"slack_stretch"`   // at or below: slack
	LooseStretch  Quantity `yaml:"loose_stretch"`   // below: loose
	EasyHandN     Quantity `yaml:"easy_hand_n"`     // opening force above which a slice is hard by hand
	MostHandN     Quantity `yaml:"most_hand_n"`     // above: not by hand at all
	StretchShare  Quantity `yaml:"stretch_share"`   // usable share of the stretch at break
	CutToleranceM Quantity `yaml:"cut_tolerance_m"` // ± on a slice cut by hand
	KerfM         Quantity `yaml:"kerf_m"`
	StrikeZoneDeg Quantity `yaml:"strike_zone_deg"` // half-angle of the belt that meets the bar
	CutReachDeg   Quantity `yaml:"cut_reach_deg"`   // how far round from the equator a recommended slice reaches at most
	BoreDepth     Quantity `yaml:"bore_depth"`      // depth of a bore as a share of the core's diameter
	PullMargin    Quantity `yaml:"pull_margin"`     // what a shaft is tried with, over what the hardest stroke pulls
	HandM         Quantity `yaml:"hand_m"`          // from the butt of the shaft to the middle of the hand
	TubeEndsM     Quantity `yaml:"tube_ends_m"`     // taken off a length of tubing to square both ends
	SawKerfM      Quantity `yaml:"saw_kerf_m"`      // lost at each cut across a dowel
	YarnTailM     Quantity `yaml:"yarn_tail_m"`     // yarn to start, finish and stitch the crown
	// The tension of the yarn as it is wound: loosely, as most people do, and
	// firmly. TensionN is taken where nobody has said.
	TensionLooseN Quantity `yaml:"tension_loose_n"`
	TensionN      Quantity `yaml:"tension_n"`
	TensionFirmN  Quantity `yaml:"tension_firm_n"`
	TensionTold   Quantity `yaml:"tension_told"` // by what share a tension read off a spring balance is off on a head
	SliceHold     Quantity `yaml:"slice_hold"`   // how a stretched slice is held by what it lies on: 0 slides, 1 is bonded
	RodKgM        Quantity `yaml:"rod_kgm"`      // a usual shaft, for a head whose shaft nobody has named: mass of a metre
	RodNm2        Quantity `yaml:"rod_nm2"`      // and its resistance to bending
	RodM          Quantity `yaml:"rod_m"`        // and its diameter
	BoredSpares   Quantity `yaml:"bored_spares"` // spoilt balls for each spoilt slice, where balls are bored at the bench
	// What a measurement of a finished head is off by, besides the head's own
	// tolerances.
	MassErrorKg     Quantity `yaml:"mass_error_kg"`
	DiameterErrorM  Quantity `yaml:"diameter_error_m"`
	BalanceErrorM   Quantity `yaml:"balance_error_m"`
	DurometerErrorA Quantity `yaml:"durometer_error_a"` // read through the yarn
}

// Usual is the default of a question about a number whose best answer depends
// on what is played: the choice nearest to what the rules say most players take.
const Usual = "usual"

// Question is something the conversation may ask. Its id is the path of the
// fact it settles.
type Question struct {
	ID      string `yaml:"id"`
	Ask     string `yaml:"ask"`
	Brief   string `yaml:"brief"` // in its place where that was put just before
	Name    string `yaml:"name"`  // put before an answer that does not speak for itself
	Why     string `yaml:"why"`
	Default string `yaml:"default"` // holds while the question is open; empty for a wish nobody has made
	// Careful is the answer that can't hurt anyone. A question that has one is
	// always asked, and Enter takes it instead of the default.
	Careful string `yaml:"careful"`
	// Unsaid is what an answer says first where nobody was asked and the
	// careful answer stands; Given the same for a stack that people name
	// themselves, which is left as it is.
	Unsaid   string   `yaml:"unsaid"`
	Given    string   `yaml:"given"`
	Yes      string   `yaml:"yes"`      // what a plain yes means for a fact that is true or false; true when empty
	Choices  []Choice `yaml:"choices"`  // the answers, or for a quantity some that span it
	Examples []string `yaml:"examples"` // answers as people write them
	Origin   Origin   `yaml:"-"`
}

// Choice is an answer to a question.
type Choice struct {
	Value string  `yaml:"value"` // the fact's
	Say   string  `yaml:"say"`
	Share float64 `yaml:"share"` // how many of those asked give it, against the others; 0 is 1
}

// Scale turns what the strike model computes into words.
type Scale struct {
	// MediumHz is the cut-off at mf on the reference bar that counts as 0 notches.
	MediumHz Quantity `yaml:"medium_hz"`
	Grades   []Grade  `yaml:"grades"` // hardest first
	// ServeDB is how far the push of a stroke may have fallen at a note's
	// fundamental for the head still to serve that note.
	ServeDB Quantity `yaml:"serve_db"`
	// FillDB is how far the fundamental has to stand above each of its tuned
	// partials at mf for a note to sound full.
	FillDB Quantity `yaml:"fill_db"`
	// Kinds are the same for other kinds of instrument: words belong to an
	// instrument. What a kind leaves out it takes from the scale.
	Kinds []KindScale `yaml:"kinds"`
	// Doubt is what the calibration of the model leaves open, as independent
	// directions: each moves several figures together.
	Doubt []Doubt `yaml:"doubt"`
	// Ends are words for the ends of a set that are no grade themselves, and the
	// grade that each stands for: from mellow to sharp.
	Ends   []End  `yaml:"ends"`
	Origin Origin `yaml:"-"`
}

// End are words that stand for a grade where they name an end of a set.
type End struct {
	Grade string   `yaml:"grade"`
	Say   []string `yaml:"say"`
}

// Doubt is one direction in which the model's figures may all be off at once,
// by about two standard deviations: as shares of the figure, but for Loose and
// Hold, which are added.
type Doubt struct {
	Tension    float64 `yaml:"tension"`
	Loose      float64 `yaml:"loose"`
	Crush      float64 `yaml:"crush"`
	FibreBlow  float64 `yaml:"fibre_blow"`  // Impact of fibres
	RubberBlow float64 `yaml:"rubber_blow"` // and of rubber cores
	LatexBlow  float64 `yaml:"latex_blow"`  // and of tubing
	Hold       float64 `yaml:"hold"`
	Loss       float64 `yaml:"loss"` // of fibres
	Plastic    float64 `yaml:"plastic"`
}

// KindScale is the scale of one kind of instrument.
type KindScale struct {
	Kind     string   `yaml:"kind"` // as Instrument.Kind
	MediumHz Quantity `yaml:"medium_hz"`
	Grades   []Grade  `yaml:"grades"`
	FillDB   Quantity `yaml:"fill_db"`
}

// For returns the scale of a kind of instrument.
func (s Scale) For(kind string) Scale {
	for _, k := range s.Kinds {
		if k.Kind != kind {
			continue
		}
		if k.MediumHz.Value > 0 {
			s.MediumHz = k.MediumHz
		}
		if len(k.Grades) > 0 {
			s.Grades = k.Grades
		}
		if k.FillDB != (Quantity{}) {
			s.FillDB = k.FillDB
		}
	}
	return s
}

// Grade is a word for a stretch of the softness scale.
type Grade struct {
	ID   string  `yaml:"id"`   // very hard, hard, medium hard, medium, …
	From float64 `yaml:"from"` // notches from which it holds, up to the next grade's; ignored in the hardest
	// Heads are what the trade calls by the word, as stack text: why the stretch lies
	// where it does, and what a test holds it to.
	Heads []string `yaml:"heads"`
}
