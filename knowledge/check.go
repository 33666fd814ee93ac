package knowledge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
)

// check reports every value of cat that can't be, and every reference that
// leads nowhere.
func check(cat *Catalogue, l *yamlfile.Layers) {
	c := &checker{cat: cat, Layers: l}
	c.hidden()
	c.partIDs()
	for _, s := range cat.Sources {
		c.at("sources", s.ID)
		c.need("cite", s.Cite != "")
		c.oneOf("mark", s.Mark, "seen", "second-hand", "memory", "practice", "derived", "assumption", "demo")
	}
	for _, m := range cat.Materials {
		c.material(m)
	}
	for _, x := range cat.Cores {
		c.core(x)
	}
	for _, t := range cat.Tubing {
		c.tube(t)
	}
	for _, y := range cat.Yarns {
		c.yarn(y)
	}
	for _, s := range cat.Shafts {
		c.shaft(s)
	}
	for _, a := range cat.Adhesives {
		c.adhesive(a)
	}
	for _, e := range cat.ShaftEnds {
		c.shaftEnd(e)
	}
	for _, f := range cat.Fasteners {
		c.fastener(f)
	}
	for _, s := range cat.Solvents {
		c.solvent(s)
	}
	for _, t := range cat.Tools {
		c.at("tools", t.ID)
		c.need("name", t.Name != "")
		c.need("for", t.For != "")
		c.source("source", t.Source)
	}
	for _, i := range cat.Instruments {
		c.instrument(i)
	}
	for _, g := range cat.Grips {
		c.grip(g)
	}
	for _, d := range cat.Dynamics {
		c.at("dynamics", d.ID)
		c.quantity("speed_ms", d.SpeedMS, 0.05, 20)
	}
	c.text()
	if len(c.Records("limits")) > 0 {
		c.limits(cat.Limits)
	}
	if len(c.Records("scale")) > 0 {
		c.scale(cat.Scale)
	}
}

// checker reports on one record after another.
type checker struct {
	*yamlfile.Layers
	cat      *Catalogue
	kind, id string // the record being checked
}

func (c *checker) at(kind, id string) { c.kind, c.id = kind, id }

// bad reports a field of the record being checked.
func (c *checker) bad(field, hint, format string, args ...any) {
	c.Failf(c.kind, c.id, field, hint, format, args...)
}

// need reports a field that was not given.
func (c *checker) need(field string, given bool) {
	if given || c.Full(c.kind, c.id) {
		return
	}
	hint := ""
	if c.id != "" && c.Record(c.kind, c.id).Added() {
		// A new record of an overlay, or a change with the id misspelt.
		var known []string
		for _, r := range c.Records(c.kind) {
			if !r.Added() {
				known = append(known, r.ID())
			}
		}
		if id, ok := words.Word(c.id, known); ok {
			hint = fmt.Sprintf("a new record has to give it; to change a known one, did you mean %q?", id)
		}
	}
	c.Failf(c.kind, c.id, "", hint, "no %s", field)
}

func (c *checker) oneOf(field, value string, valid ...string) {
	switch {
	case value == "":
		c.need(field, false)
	case !slices.Contains(valid, value):
		c.bad(field, words.Hint(value, valid), "%q is not known", yamlfile.Clip(value))
	}
}

// reference reports an id that no record of a kind has.
func (c *checker) reference(field, id, kind string) {
	switch r := c.Record(kind, id); {
	case c.Full(c.kind, c.id):
	case id == "":
		c.need(field, false)
	case r == nil:
		c.bad(field, words.Hint(id, c.ids(kind)), "no %s %q", yamlfile.Singular(kind), yamlfile.Clip(id))
	case r.Hidden:
		file, line := r.Last()
		c.bad(field, "hide this record too, or give it another", "%s %q is hidden at %s:%d", yamlfile.Singular(kind), id, file, line)
	}
}

func (c *checker) references(field string, ids []string, kind string) {
	for i, id := range ids {
		c.reference(fmt.Sprintf("%s.%d", field, i+1), id, kind)
	}
}

func (c *checker) source(field, id string) { c.reference(field, id, "sources") }

// ids returns the ids of a kind that are not hidden.
func (c *checker) ids(kind string) []string {
	var ids []string
	for _, r := range c.Records(kind) {
		if !r.Hidden {
			ids = append(ids, r.ID())
		}
	}
	return ids
}

// within reports a value outside lo to hi.
func (c *checker) within(field string, x, lo, hi float64) {
	if !(x >= lo && x <= hi) {
		c.bad(field, fmt.Sprintf("%g to %g", lo, hi), "%g can't be", x)
	}
}

// quantity reports a quantity that is not given, lies outside lo to hi, or
// has no source or a tolerance that can't be.
func (c *checker) quantity(field string, q Quantity, lo, hi float64) {
	if q == (Quantity{}) {
		c.need(field, false)
		return
	}
	c.within(field+".value", q.Value, lo, hi)
	if q.Tol < 0 {
		c.bad(field+".tol", "0 or more", "a tolerance of %g can't be", q.Tol)
	}
	c.source(field+".source", q.Source)
}

// optional is quantity for one that need not be given.
func (c *checker) optional(field string, q Quantity, lo, hi float64) {
	if q != (Quantity{}) {
		c.quantity(field, q, lo, hi)
	}
}

// none reports a quantity that has no meaning where it stands.
func (c *checker) none(field string, q Quantity, why string) {
	if q != (Quantity{}) {
		c.bad(field, "leave it out", "%s", why)
	}
}

// length reports a length outside lo to hi.
func (c *checker) length(field string, l, lo, hi measure.Length) {
	switch {
	case l == 0 && lo > 0:
		c.need(field, false)
	case !(l >= lo && l <= hi):
		c.bad(field, fmt.Sprintf("%.4g to %.4g mm", lo.MM(), hi.MM()), "%.4g mm can't be", l.MM())
	}
}

func (c *checker) mass(field string, m, lo, hi measure.Mass) {
	switch {
	case m == 0 && lo > 0:
		c.need(field, false)
	case !(m >= lo && m <= hi):
		c.bad(field, fmt.Sprintf("%.4g to %.4g g", lo.Grams(), hi.Grams()), "%.4g g can't be", m.Grams())
	}
}

// price reports a price without a source, or for a pack that can't be.
func (c *checker) price(p measure.Money, source string, pack float64) {
	if p < 0 {
		c.bad("price", "0 or more", "a price below nothing can't be")
	}
	if p != 0 {
		c.source("price_source", source)
	}
	if pack < 0 || p != 0 && pack == 0 {
		c.bad("pack", "how much is sold at the price", "a priced part needs a pack above nothing")
	}
}

// hidden reports what an overlay hides that is not there.
func (c *checker) hidden() {
	for name := range c.Kinds() {
		for _, r := range c.Records(name) {
			if r.Hidden && r.Alone() {
				id := r.ID()
				c.Failf(name, id, "hide", words.Hint(id, c.ids(name)), "there is none to hide")
			}
		}
	}
}

// partIDs reports an id that two parts of different kinds share: a stack text
// and a bin name parts by id alone.
func (c *checker) partIDs() {
	seen := map[string]string{}
	for _, kind := range []string{"cores", "tubing", "yarns", "shafts"} {
		for _, id := range c.ids(kind) {
			if other := seen[id]; other != "" {
				c.Failf(kind, id, "id", "give another id", "a %s has this id too", yamlfile.Singular(other))
			}
			seen[id] = kind
		}
	}
}

func (c *checker) material(m Material) {
	c.at("materials", m.ID)
	c.need("name", m.Name != "")
	c.oneOf("family", m.Family, "plastic", "wood", "rubber", "metal", "fibre", "fibreglass")
	c.source("source", m.Source)
	// From balsa and foams to brass: nothing a head is made of lies outside.
	c.quantity("density_kgm3", m.DensityKgM3, 100, 9000)
	c.quantity("loss_factor", m.LossFactor, 0, 1)
	if m.Family == "rubber" {
		c.none("modulus_pa", m.ModulusPa, "a rubber's modulus follows from its durometer_a")
		// Gent's relation is good for about 20 to 80 and diverges at 100.
		c.quantity("durometer_a", m.DurometerA, 10, 95)
		// Extensible to 1 + 1200 % at the very most.
		c.quantity("stretch_limit", m.StretchLimit, 1.05, 13)
		c.oneOf("solvents", m.Solvents, "good", "fair", "poor")
	} else {
		c.none("durometer_a", m.DurometerA, "only a rubber has a durometer reading here")
		c.none("stretch_limit", m.StretchLimit, "only a rubber is stretched")
		c.quantity("modulus_pa", m.ModulusPa, 1e8, 3e11)
		if m.Latex {
			c.bad("latex", "", "only a rubber can be natural rubber latex")
		}
	}
	c.optional("impact", m.Impact, 1, 20)
	if m.Family != "fibre" {
		c.quantity("poisson", m.Poisson, 0, 0.5)
	}
}

// family reports a reference to a material of another family than wanted.
func (c *checker) family(field, id string, want ...string) (Material, bool) {
	c.reference(field, id, "materials")
	m, ok := c.cat.Material(id)
	if ok && c.Record("materials", id).Wrong() {
		return m, false // once is enough
	}
	if ok && !slices.Contains(want, m.Family) {
		c.bad(field, "", "%s is a %s, want a %s", id, m.Family, strings.Join(want, " or "))
		return m, false
	}
	return m, ok
}

func (c *checker) core(x Core) {
	c.at("cores", x.ID)
	c.need("name", x.Name != "")
	m, ok := c.family("material", x.Material, "plastic", "wood", "rubber", "metal")
	c.supply(x.Supply)
	c.length("diameter", x.Diameter, 5*measure.Millimetre, 100*measure.Millimetre)
	c.length("tol", x.Tol, 0, x.Diameter/10)
	c.length("bore", x.Bore, 0, x.Diameter*0.7)
	if x.DurometerA != 0 {
		c.within("durometer_a", x.DurometerA, 10, 95)
		if ok && m.Family != "rubber" {
			c.bad("durometer_a", "leave it out", "only a rubber ball has a durometer reading here")
		}
	}
	if x.DurometerD != 0 {
		c.within("durometer_d", x.DurometerD, 20, 90)
		switch {
		case ok && m.Family != "rubber":
			c.bad("durometer_d", "leave it out", "only a rubber ball has a durometer reading here")
		case x.DurometerA != 0:
			c.bad("durometer_d", "one of durometer_a and durometer_d", "a hardness on two scales")
		}
	}
	c.price(x.Price, x.PriceSource, float64(x.Pack))
	c.source("source", x.Source)
}

func (c *checker) supply(s string) {
	if s != "" && s != "inch" && s != "metric" {
		c.bad("supply", "inch, metric, or left out for a size that is sold everywhere", "%q is no world of sizes", s)
	}
}

func (c *checker) tube(t Tube) {
	c.at("tubing", t.ID)
	c.supply(t.Supply)
	c.family("material", t.Material, "rubber")
	c.length("bore", t.Bore, 2*measure.Millimetre, 100*measure.Millimetre)
	if t.Wall > t.Bore {
		c.bad("wall", "no thicker than the bore", "a wall of %.4g mm on a bore of %.4g mm can't be stretched", t.Wall.MM(), t.Bore.MM())
	} else {
		c.length("wall", t.Wall, 0.2*measure.Millimetre, 25*measure.Millimetre)
	}
	c.length("bore_tol", t.BoreTol, 0, t.Bore/4)
	c.length("wall_tol", t.WallTol, 0, t.Wall/2)
	c.price(t.Price, t.PriceSource, float64(t.Pack))
	c.source("source", t.Source)
}

func (c *checker) yarn(y Yarn) {
	c.at("yarns", y.ID)
	c.need("name", y.Name != "")
	c.family("fibre", y.Fibre, "fibre")
	c.quantity("tex", y.Tex, 1, 20000)
	if y.Plies < 1 {
		c.bad("plies", "1 or more", "%d plies can't be", y.Plies)
	}
	// Parallel rods packed as tightly as they go fill π/√12 of the space.
	c.quantity("loose", y.Loose, 0.01, math.Pi/math.Sqrt(12))
	c.quantity("crush_pa", y.CrushPa, 1e5, 1e10)
	if w := y.Wraps; w.Light < 1 || w.Light > w.Plain || w.Plain > w.Full || w.Full > 10000 {
		c.bad("wraps", "1 to 10000, light <= plain <= full", "wraps of %d, %d and %d turns can't be", w.Light, w.Plain, w.Full)
	}
	c.price(y.Price, y.PriceSource, float64(y.Pack))
	c.source("source", y.Source)
}

func (c *checker) shaft(s Shaft) {
	c.at("shafts", s.ID)
	c.supply(s.Supply)
	c.need("name", s.Name != "")
	m, ok := c.family("material", s.Material, "plastic", "wood", "fibreglass")
	c.length("length", s.Length, 100*measure.Millimetre, 2*measure.Metre)
	if s.Stock != 0 {
		c.length("stock", s.Stock, s.Length, 5*measure.Metre)
	}
	c.length("diameter", s.Diameter, 2*measure.Millimetre, 25*measure.Millimetre)
	c.mass("mass", s.Mass, 0.5*measure.Gram, 500*measure.Gram)
	c.mass("mass_tol", s.MassTol, 0, s.Mass)
	if s.BendingNm2 != 0 {
		c.within("bending_nm2", s.BendingNm2, 0.01, 1000)
	}
	c.price(s.Price, s.PriceSource, float64(s.Pack))
	c.source("source", s.Source)
	if !ok {
		return
	}
	rod := math.Pi / 4 * float64(s.Diameter*s.Diameter*s.Length)
	want := measure.Mass(rod * m.DensityKgM3.Value)
	slack := s.MassTol + measure.Mass(rod*m.DensityKgM3.Tol)
	if math.Abs(float64(s.Mass-want)) > float64(slack) {
		c.bad("mass", fmt.Sprintf("%.3g g within %.2g g", want.Grams(), slack.Grams()),
			"%.3g g is not the mass of a rod of this size in %s", s.Mass.Grams(), m.ID)
	}
}

func (c *checker) adhesive(a Adhesive) {
	c.at("adhesives", a.ID)
	c.need("name", a.Name != "")
	c.oneOf("base", a.Base, "water", "solvent", "reactive", "none")
	c.need("joins", len(a.Joins) > 0)
	for i, j := range a.Joins {
		c.oneOf(fmt.Sprintf("joins.%d", i+1), j, "rubber-core", "rubber-rubber", "core-shaft", "yarn-end")
	}
	c.need("bonds", len(a.Bonds) > 0 || !slices.Contains(a.Joins, "core-shaft"))
	for i, b := range a.Bonds {
		if !slices.ContainsFunc(c.cat.Materials, func(m Material) bool { return m.ID == b || m.Family == b }) {
			c.bad(fmt.Sprintf("bonds.%d", i+1), "a material, or a family of them", "%q is neither", yamlfile.Clip(b))
		}
	}
	c.quantity("open_min", a.OpenMin, 0, 600)
	c.quantity("cure_hours", a.CureHour, 0, 200)
	c.quantity("film_gm2", a.FilmGM2, 0, 2000)
	c.references("hazards", a.Hazards, "cautions")
	c.references("solvents", a.Solvents, "solvents")
	if a.Base == "solvent" {
		c.need("solvents", len(a.Solvents) > 0)
		c.need("hazards", len(a.Hazards) > 0)
	}
	for i, id := range a.Solvents {
		if s, ok := c.cat.Solvent(id); ok && s.Avoid {
			c.bad(fmt.Sprintf("solvents.%d", i+1), "", "%s is never to be used at the bench", id)
		}
	}
	c.price(a.Price, a.PriceSource, 1)
	c.source("source", a.Source)
}

func (c *checker) solvent(s Solvent) {
	c.at("solvents", s.ID)
	c.need("name", s.Name != "")
	c.source("source", s.Source)
	for _, q := range []struct {
		field  string
		q      *Quantity
		lo, hi float64
	}{
		{"flash_c", s.FlashC, -100, 300},
		{"lel_pct", s.LELPct, 0, 50},
		{"pel_ppm", s.PELPpm, 0, 10000},
		{"rel_ppm", s.RELPpm, 0, 10000},
	} {
		if q.q != nil {
			c.quantity(q.field, *q.q, q.lo, q.hi)
		}
	}
}

func (c *checker) instrument(i Instrument) {
	c.at("instruments", i.ID)
	c.need("name", i.Name != "")
	c.oneOf("kind", i.Kind, "marimba", "vibraphone", "xylophone", "bells")
	c.oneOf("bars", i.Bars, "wood", "synthetic", "metal")
	c.note("low", i.Low)
	c.note("high", i.High)
	if i.Low >= i.High {
		c.bad("high", "above low", "the highest note must lie above the lowest")
	}
	switch {
	case len(i.Ratios) == 0:
		c.need("ratios", false)
	case i.Ratios[0] != 1:
		c.bad("ratios.1", "1", "the first ratio is the fundamental's own, not %g", i.Ratios[0])
	}
	for n := 1; n < len(i.Ratios); n++ {
		if i.Ratios[n] <= i.Ratios[n-1] {
			c.bad(fmt.Sprintf("ratios.%d", n+1), "rising", "ratio %g does not lie above %g", i.Ratios[n], i.Ratios[n-1])
		}
	}
	c.need("bar_mass", len(i.BarMass) > 0)
	c.source("bar_mass_source", i.BarMassSource)
	for n, b := range i.BarMass {
		field := fmt.Sprintf("bar_mass.%d", n+1)
		c.note(field+".note", b.Note)
		c.mass(field+".mass", b.Mass, measure.Gram, 5*measure.Kilogram)
		if n > 0 && b.Note <= i.BarMass[n-1].Note {
			c.bad(field+".note", "rising", "the notes of bar_mass must rise")
		}
		if len(b.Shapes) != 0 && len(b.Shapes) != 3 {
			c.bad(field+".shapes", "3 numbers, or none", "%d shapes can't be", len(b.Shapes))
		}
		if b.Whole != 0 {
			c.within(field+".whole", b.Whole, 1, 4)
		}
	}
	c.quantity("loss_factor", i.LossFactor, 0, 0.2)
	c.optional("surface_pa", i.SurfacePa, 1e8, 1e12)
	c.source("source", i.Source)
}

// note reports a pitch off every keyboard: below A0 or above C9.
func (c *checker) note(field string, n measure.Note) {
	switch {
	case n == 0:
		c.need(field, false)
	case n < 21 || n > 120:
		c.bad(field, "A0 to C9", "no keyboard has this note")
	}
}

func (c *checker) grip(g Grip) {
	c.at("grips", g.ID)
	c.need("name", g.Name != "")
	c.within("mallets", float64(g.Mallets), 1, 6)
	c.mass("easy_mass", g.EasyMass, 5*measure.Gram, 500*measure.Gram)
	c.mass("most_mass", g.MostMass, g.EasyMass, 500*measure.Gram)
	c.length("most_size", g.MostSize, 15*measure.Millimetre, 150*measure.Millimetre)
	c.source("source", g.Source)
}

func (c *checker) limits(x Limits) {
	c.at("limits", "")
	c.quantity("slack_stretch", x.SlackStretch, 1, 2)
	c.quantity("loose_stretch", x.LooseStretch, 1, 3)
	c.quantity("easy_hand_n", x.EasyHandN, 1, 1000)
	c.quantity("most_hand_n", x.MostHandN, 1, 1000)
	c.quantity("stretch_share", x.StretchShare, 0.05, 1)
	c.quantity("cut_tolerance_m", x.CutToleranceM, 0, 0.01)
	c.quantity("kerf_m", x.KerfM, 0, 0.01)
	c.quantity("strike_zone_deg", x.StrikeZoneDeg, 1, 90)
	c.quantity("cut_reach_deg", x.CutReachDeg, x.StrikeZoneDeg.Value, 90)
	c.quantity("bore_depth", x.BoreDepth, 0.05, 1)
	c.quantity("hand_m", x.HandM, 0, 0.5)
	c.quantity("tube_ends_m", x.TubeEndsM, 0, 0.1)
	c.quantity("saw_kerf_m", x.SawKerfM, 0, 0.01)
	c.quantity("yarn_tail_m", x.YarnTailM, 0, 5)
	c.quantity("bored_spares", x.BoredSpares, 0, 1)
	c.quantity("tension_loose_n", x.TensionLooseN, 0.1, 100)
	c.quantity("tension_n", x.TensionN, x.TensionLooseN.Value, 100)
	c.quantity("tension_firm_n", x.TensionFirmN, x.TensionN.Value, 100)
	c.quantity("tension_told", x.TensionTold, 0.01, 1)
	c.quantity("slice_hold", x.SliceHold, 0, 1)
	c.quantity("pull_margin", x.PullMargin, 1, 100)
	c.quantity("rod_kgm", x.RodKgM, 0, 10)
	c.quantity("rod_nm2", x.RodNm2, 0.01, 1000)
	c.quantity("rod_m", x.RodM, 0.001, 0.025)
	c.quantity("mass_error_kg", x.MassErrorKg, 0, 0.01)
	c.quantity("diameter_error_m", x.DiameterErrorM, 0, 0.01)
	c.quantity("balance_error_m", x.BalanceErrorM, 0, 0.1)
	c.quantity("durometer_error_a", x.DurometerErrorA, 0, 50)
	if x.LooseStretch.Value < x.SlackStretch.Value {
		c.bad("loose_stretch", "at least slack_stretch", "loose begins below slack")
	}
	if x.MostHandN.Value < x.EasyHandN.Value {
		c.bad("most_hand_n", "at least easy_hand_n", "the most lies below the easy")
	}
}

func (c *checker) scale(x Scale) {
	c.at("scale", "")
	c.quantity("medium_hz", x.MediumHz, 50, 20000)
	c.quantity("serve_db", x.ServeDB, 1, 60)
	c.quantity("fill_db", x.FillDB, 0, 60)
	c.need("grades", len(x.Grades) > 0)
	c.grades("grades", x.Grades)
	for i, e := range x.Ends {
		if !slices.ContainsFunc(x.Grades, func(g Grade) bool { return g.ID == e.Grade }) {
			c.bad(fmt.Sprintf("ends.%d.grade", i+1), "the id of a grade", "%q is none", e.Grade)
		}
	}
	for i, k := range x.Kinds {
		field := fmt.Sprintf("kinds.%d", i+1)
		c.oneOf(field+".kind", k.Kind, "marimba", "vibraphone", "xylophone", "bells")
		c.optional(field+".medium_hz", k.MediumHz, 50, 20000)
		c.optional(field+".fill_db", k.FillDB, 0, 60)
		c.grades(field+".grades", k.Grades)
	}
}

func (c *checker) grades(field string, all []Grade) {
	for i, g := range all {
		if g.ID == "" {
			c.bad(fmt.Sprintf("%s.%d", field, i+1), "", "no id")
		}
		if i > 1 && g.From <= all[i-1].From {
			c.bad(fmt.Sprintf("%s.%d.from", field, i+1), "hardest first", "%g is not softer than the grade before", g.From)
		}
	}
}
