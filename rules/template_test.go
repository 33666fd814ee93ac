package rules_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"mallow/rules"
)

func TestTemplate(t *testing.T) {
	f := mallet{mhead{MassG: 41.237, Layers: 2, Core: "wood", Latex: true}, mplayer{}}
	m, err := rules.NewTemplates[mallet](options().Verbs, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ name, text, want string }{
		{"text", "no facts", "no facts"},
		{"number", "{head.mass_g}", "41.2"},
		{"whole number", "{head.layers} layers", "2 layers"},
		{"expression", "half is {head.mass_g/2}", "half is 20.6"},
		{"small number", "{head.mass_g/50000}", "0.000825"},
		{"large number", "{head.mass_g*1000}", "41237"},
		{"nothing", "{head.mass_g*0}", "0"},
		{"below nothing", "{-head.layers/3}", "-0.667"},
		{"digits", "{head.mass_g:.2f}", "41.24"},
		{"no digits", "{head.mass_g:.0f}", "41"},
		{"verb", "{head.mass_g:g}", "41.2 g"},
		{"nothing for 0", "{head.mass_g:.1f?}{head.mass_g*0:.1f?}{head.mass_g*0:g?}", "41.2"},
		{"spaces", "{ head.mass_g :g}", "41.2 g"},
		{"word", "{head.core}", "wood"},
		{"truth", "latex: {head.latex}, not: {not head.latex}", "latex: yes, not: no"},
		{"choice", `{head.layers == 1 ? "layer" : "layers"}`, "layers"},
		{"choice with a form", `{head.latex ? head.mass_g : 0:.1f}`, "41.2"},
		{"choice in a choice", `{head.latex ? head.layers > 1 ? "a" : "b" : "c"}`, "a"},
		{"brace in a text", `{head.latex ? "}" : '{'}`, "}"},
		{"quote in a text", `{head.latex ? "\"}" : ""}`, `"}`},
		{"braces", "{{head.mass_g}} is {head.mass_g}", "{head.mass_g} is 41.2"},
		{"joined", `{"about " + string(int(head.mass_g)) + " g"}`, "about 41 g"},
		{"no value", "{1/player.most_g}", "?"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tmpl, err := m.New(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := tmpl.Fill(f); got != tt.want {
				t.Errorf("%s is %q, want %q", tt.text, got, tt.want)
			}
		})
	}
}

func TestTemplateErrors(t *testing.T) {
	m, err := rules.NewTemplates[mallet](options().Verbs, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ text, want string }{
		{"ab {head.mass}", `character 5: unknown fact "head.mass"`},
		{"{head.mass_g", "character 1: a { without its } ({{ stands for one brace)"},
		{"ab }", "character 4: a } without its { (}} stands for one brace)"},
		{"{}", "character 2: an empty expression"},
		{"é {head.mass_g +}", "character 16: it stops too early"},
		{"{head.mass_g:x}", `character 14: unknown form "x" (g, .1f)`},
		{"{head.mass_g:.9f}", `character 14: unknown form ".9f" (g, .1f)`},
		{"{head.core:.1f}", `character 12: form ".1f" is for numbers; this is a text`},
		{strings.Repeat("a", 5000), "character 1: a text of 5000 bytes (at most 4000)"},
	} {
		_, err := m.New(tt.text)
		if err == nil || err.Error() != tt.want {
			t.Errorf("%.20q: got %v, want %s", tt.text, err, tt.want)
		}
	}
}

func TestQuantity(t *testing.T) {
	m, err := rules.NewTemplates[mallet](nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	q, err := m.Number("head.layers*30")
	if err != nil {
		t.Fatal(err)
	}
	if x, ok := q.Of(mallet{Head: mhead{Layers: 2}}); x != 60 || !ok {
		t.Errorf("got %v, %v", x, ok)
	}
	if _, ok := q.Of(mallet{Head: mhead{Layers: math.NaN()}}); ok {
		t.Error("NaN is a quantity")
	}
	if _, err := m.Number("head.core"); err == nil || err.Error() != "character 1: a number expected; this is a text" {
		t.Error(err)
	}
}

func ExampleTemplates() {
	verbs := rules.Verbs{"g": func(x float64) string { return fmt.Sprintf("%.1f g", x) }}
	m, err := rules.NewTemplates[mallet](verbs, nil)
	if err != nil {
		panic(err)
	}
	tmpl, err := m.New("{head.layers} {head.layers == 1 ? 'layer' : 'layers'}, {head.mass_g:g}")
	if err != nil {
		panic(err)
	}
	fmt.Println(tmpl.Fill(mallet{Head: mhead{MassG: 41.23, Layers: 1}}))
	// Output: 1 layer, 41.2 g
}

func FuzzTemplate(f *testing.F) {
	for _, seed := range []string{
		"", "{head.mass_g:g}", "{{}}", "{head.latex ? \"}\" : '{'}", "{head.mass_g", "}", "{head.mass_g:.1f}", "{'\\", "{head.layers == 1 ? 'a' : 'b'}",
		"{1/head.layers:g}", "{head.core + string(3)}", "{`", "\xff{", "{head.mass_g:é}",
	} {
		f.Add(seed)
	}
	m, err := rules.NewTemplates[mallet](options().Verbs, nil)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		tmpl, err := m.New(text)
		if err != nil {
			return
		}
		got := tmpl.Fill(mallet{})
		if !strings.ContainsAny(text, "{}") && got != text {
			t.Errorf("%q is filled as %q", text, got)
		}
		if reads := tmpl.Reads(); len(reads) > len(text) {
			t.Errorf("%q reads %v", text, reads)
		}
	})
}
