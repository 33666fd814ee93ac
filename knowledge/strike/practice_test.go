package strike_test

import (
	"testing"

	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
)

func catalogue(t testing.TB) *knowledge.Catalogue {
	t.Helper()
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	return cat
}

func setting(t testing.TB, cat *knowledge.Catalogue) strike.Setting {
	t.Helper()
	inst, ok := cat.Instrument("marimba-5")
	if !ok {
		t.Fatal("no marimba-5")
	}
	return strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}
}

func build(t testing.TB, cat *knowledge.Catalogue, text string) head.Head {
	t.Helper()
	s, err := head.Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	return head.New(s, cat.Limits)
}

func TestLook(t *testing.T) {
	cat := catalogue(t)
	set := setting(t, cat)
	for _, text := range []string{
		"poly-1-1/8",
		"poly-1-1/8 + wool-medium",
		"poly-1-1/8 + 3/4x1/16@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1",
		"poly-1-1/8 + 3/4x1/8@1 + cotton-fine",
		"poly-1-1/8 + 3/4x1/8@1 + 1x1/16@1 + wool-medium",
		"poly-1-1/8 + 3/4x1/8@1 + 1x1/8@1 + wool-medium",
		"poly-1 + 3/4x1/8@1 + 7/8x1/8@1 + 1x1/16@1 + wool-medium",
		"rubber-40a-1-1/8",
		"rubber-40a-1-1/8 + wool-medium",
		"rubber-50a-1-1/8 + wool-medium",
		"rubber-60a-1-1/8 + wool-medium",
		"rubber-75a-1-1/8 + wool-medium",
		"rubber-60a-1-1/8 + 3/4x1/8@1 + wool-medium",
		"rubber-75a-1-1/8 + 3/4x1/8@1 + wool-medium",
	} {
		s, err := head.Parse(cat, text)
		if err != nil {
			t.Log(err)
			continue
		}
		h := head.New(s, cat.Limits)
		r, err := strike.Of(h, set)
		if err != nil {
			t.Fatal(text, err)
		}
		t.Logf("%-58s %.1fg %.1fmm yarn %.2f steps %.2f±%.2f %s opens %.2f serves %d-%d", text, h.Mass.Grams(), h.Diameter.MM(), h.YarnWall.MM(), r.Steps, r.StepsTol, r.Grade, r.OpensUp, r.Low, r.High)
		for _, x := range r.Reference {
			t.Logf("      %-3s %.2f ms %.0f N %.0f Hz e %.2f %.2f %v", x.Dynamic, x.ContactS*1e3, x.PeakN, x.CutoffHz, x.Rebound, x.Share, x.PartialsDB)
		}
	}
}

func TestYarns(t *testing.T) {
	cat := catalogue(t)
	set := setting(t, cat)
	for _, y := range cat.Yarns {
		for _, base := range []string{"poly-1-1/8", "poly-1-1/8 + 3/4x1/16@1", "poly-1-1/8 + 3/4x1/8@1"} {
			h := build(t, cat, base+" + "+y.ID)
			r, err := strike.Of(h, set)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%-20s %-24s %.0f tex %d turns wall %.2f %.1f g steps %.2f %v %s", y.ID, base, y.Tex.Value, h.Stack.Wrap.Turns, h.YarnWall.MM(), h.Mass.Grams(), r.Steps, r.Reference[1].Share, r.Grade)
		}
	}
}
