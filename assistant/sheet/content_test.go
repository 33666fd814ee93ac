package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
)

// Every caution names all four that come before the sheet.
func TestCautionsDefer(t *testing.T) {
	for _, c := range knowledgetest.Catalogue(t).Cautions {
		said := strings.ToLower(c.Defer)
		for _, want := range []string{"label", "safety data sheet", "local rules", "responsible"} {
			if !strings.Contains(said, want) {
				t.Errorf("caution %s does not defer to the %s: %q", c.ID, want, c.Defer)
			}
		}
		if c.Hazard == "" || c.Do == "" {
			t.Errorf("caution %s says no hazard, or nothing to do about it", c.ID)
		}
	}
}

// Every step has something to check and a source, and each hazardous step
// its caution. Which steps are hazardous is common practice, no source.
func TestStepsCarryTheirCautions(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	for step, cautions := range map[string][]string{
		"drill-core":         {"drill-round", "eyes", "dust", "adult"},
		"deburr-core":        {"dust"},
		"cut-slice":          {"knife", "adult", "latex-allergy"},
		"pull-slice":         {"strain-hands", "eyes", "latex-allergy"},
		"glue-slice-solvent": {"solvent-vapour", "solvent-fire", "eyes"},
		"glue-shaft":         {"eyes", "dust"},
		"barb-shaft":         {"dust"},
		"pin-shaft":          {"drill-round", "eyes", "dust", "adult"},
		"pull-test":          {"fly-off"},
		"crown-stitch":       {"needle"},
		"finish-yarn":        {"needle"},
		"label-latex":        {"latex-allergy"},
	} {
		s, ok := cat.Step(step)
		if !ok {
			t.Errorf("no step %s", step)
			continue
		}
		for _, c := range cautions {
			if !slices.Contains(s.Cautions, c) {
				t.Errorf("step %s lacks caution %s", step, c)
			}
		}
	}
	for _, s := range cat.Steps {
		if s.Check == "" || s.IfOff == "" {
			t.Errorf("step %s has no check, or nothing to do when it fails", s.ID)
		}
		for _, id := range s.Cautions {
			if c, _ := cat.Caution(id); c.Adult && s.ID != "glue-slice-solvent" {
				t.Errorf("step %s carries %s, which is for adults only", s.ID, id)
			}
		}
	}
	for _, id := range []string{"solvent-vapour", "solvent-fire"} {
		if c, _ := cat.Caution(id); !c.Adult {
			t.Errorf("%s is not kept from minors", id)
		}
	}
}

func TestStepTextsCompile(t *testing.T) {
	if _, err := sheet.NewMaker(knowledgetest.Catalogue(t)); err != nil {
		t.Error(err)
	}
	cat := *knowledgetest.Catalogue(t)
	cat.Steps = slices.Clone(cat.Steps)
	cat.Steps[3].Text = "Expect {head.mas_g:.1f} g."
	_, err := sheet.NewMaker(&cat)
	if err == nil || !strings.Contains(err.Error(), cat.Steps[3].ID) || !strings.Contains(err.Error(), "mass_g") || !strings.Contains(err.Error(), "steps.yaml:") {
		t.Errorf("a misspelt fact in step %s: %v, want file, line and the right name", cat.Steps[3].ID, err)
	}
}

// Published figures, against the catalogue's. Flash points: tamhsc.edu table
// of flammable liquids (seen; given in °F for toluene, n-heptane and acetone).
// Limits: toluene from OSHA's chemical sampling information (29 CFR 1910.1000
// Z-2, seen, archived copy); n-heptane and naphtha from the NIOSH pages on the
// 1988 PEL project (seen); lower explosive limits of n-heptane and n-hexane from
// an AARST standard's chart (seen), of toluene from the NIOSH Pocket Guide of
// 2005, page 311 (a copy, seen); n-hexane from the same guide; acetone from
// OSHA's sampling page CH_216600 of 2008 (seen); limits of methyl ethyl ketone
// from ATSDR's profile and OSHA method 16 (seen), its flash point, on which
// sources disagree, from a university's table (ATSDR prints -2 °C); ammonia from two pages
// that agree (seen); dichloromethane from EPA's rule of 2024 (89 FR 39254) as an
// industrial hygiene society sums it up (second-hand).
func TestPublishedExposureLimits(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	const none = -1000
	for _, test := range []struct {
		id                    string
		flashC, lel, pel, rel float64
	}{
		{"toluene", 4, 1.1, 200, 100},
		{"n-heptane", -4, 1.05, 500, 85},
		{"n-hexane", -22, 1.1, 500, 50},
		{"acetone", -18, none, 1000, 250},
		{"methyl-ethyl-ketone", -6, 1.8, 200, 200},
		{"naphtha", none, none, 500, none},
		{"ammonia", none, none, 50, 25},
		{"dichloromethane", none, none, 2, none},
	} {
		s, ok := cat.Solvent(test.id)
		if !ok {
			t.Errorf("no solvent %s", test.id)
			continue
		}
		for _, f := range []struct {
			what string
			got  *knowledge.Quantity
			want float64
		}{{"flash point", s.FlashC, test.flashC}, {"lower explosive limit", s.LELPct, test.lel}, {"legal limit", s.PELPpm, test.pel}, {"advised limit", s.RELPpm, test.rel}} {
			switch {
			case f.want == none && f.got != nil:
				t.Errorf("%s: a %s of %g that has no published source here", test.id, f.what, f.got.Value)
			case f.want != none && (f.got == nil || f.got.Value != f.want):
				t.Errorf("%s: %s is %+v, published %g", test.id, f.what, f.got, f.want)
			case f.got != nil:
				if _, ok := cat.Source(f.got.Source); !ok {
					t.Errorf("%s: %s has no source", test.id, f.what)
				}
			}
		}
	}
	if s, _ := cat.Solvent("dichloromethane"); !s.Avoid {
		t.Error("dichloromethane is not marked as never to be used (EPA final rule 89 FR 39254, seen)")
	}
}
