package reply_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/head"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/strike"
)

// computed returns what `mallow head` shows of a stack.
func computed(t *testing.T, text string) reply.Head {
	t.Helper()
	cat := knowledgetest.Catalogue(t)
	stack, err := head.Parse(cat, text)
	if err != nil {
		t.Fatal(err)
	}
	inst, _ := cat.Instrument("marimba-5")
	h := head.New(stack, cat.Limits)
	report, err := strike.Of(h, strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale})
	if err != nil {
		t.Fatal(err)
	}
	return reply.NewHead(h, report)
}

// TestHeadJSON holds the names that scripts rely on.
func TestHeadJSON(t *testing.T) {
	data, err := json.Marshal(computed(t, "poly-1-1/8 + 3/4x1/8@1 + wool-medium"))
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	layer := v["layers"].([]any)[0].(map[string]any)
	stroke := v["strokes"].([]any)[0].(map[string]any)
	for _, want := range []struct {
		of    string
		in    map[string]any
		names string
	}{
		{"head", v, "mass_g diameter_mm layers strokes softness grade opens_up_octaves serves"},
		{"layer", layer, "part stretch wall_mm outer_mm hand_force_n cut_max_mm cut_mm verdict"},
		{"stroke", stroke, "dynamic contact_ms peak_n cutoff_hz share partials_db"},
	} {
		for name := range strings.FieldsSeq(want.names) {
			if _, ok := want.in[name]; !ok {
				t.Errorf("%s: no field %q in %s", want.of, name, data)
			}
		}
	}
	if got := layer["cut_mm"]; got != 25.4 {
		t.Errorf("a slice cut @1 is %v mm long, want 25.4", got)
	}
}

func TestHeadAddsUp(t *testing.T) {
	for _, text := range []string{
		"poly-1-1/8",
		"poly-1-1/8 + wool-medium",
		"poly-1 + 3/4x1/8 + 7/8x1/8 + 1x1/16 + wool-medium + birch-16",
	} {
		v := computed(t, text)
		sum := v.Core.MassG
		for _, l := range v.Layers {
			sum += l.MassG
		}
		if v.Yarn != nil {
			sum += v.Yarn.MassG
		}
		if math.Abs(sum-v.MassG) > 0.05 {
			t.Errorf("%s: parts come to %.2f g, the head to %.2f", text, sum, v.MassG)
		}
		for _, s := range v.Strokes {
			total := 0.0
			for _, x := range s.Share {
				total += x
			}
			if math.Abs(total-1) > 0.001 {
				t.Errorf("%s at %s: shares sum to %.4f", text, s.Dynamic, total)
			}
		}
	}
}

func TestSlackIsSaid(t *testing.T) {
	v := computed(t, "poly-1 + 1x1/8@1 + wool-medium")
	if got := v.Layers[0].VerdictIs; got != "slack" {
		t.Fatalf("1 in bore on a 1 in ball is %q, want slack", got)
	}
	var b strings.Builder
	if err := page.Text(&b, v.Page(), page.Style{Width: 80}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "slack") || !strings.Contains(b.String(), "slap") {
		t.Errorf("the page does not say that the slice slaps:\n%s", b.String())
	}
}
