package rules_test

import (
	"strconv"
	"strings"
	"testing"

	"mallow/rules"
)

// TestLanguage holds what language.go takes for granted of expr: how its
// checker sees types and facts, what the configuration lets through, and the
// English of its messages. A case that fails after an upgrade of expr names
// what changed there.
func TestLanguage(t *testing.T) {
	templates, err := rules.NewTemplates[mallet](nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ name, expr, want string }{
		// The checker.
		{"checker: kinds that do not compare", `head.mass_g > head.core`, "character 13: > between a number and a text"},
		{"checker: kinds of a condition", `head.mass_g ? 1 : 2`, "character 6: what stands before ? is yes or no"},
		{"checker: a fact that is none", `head.mass`, `character 1: unknown fact "head.mass"`},
		{"checker: a whole group", `head`, `character 1: "head" is not one fact`},
		{"checker: integers are numbers", `1 / 2 < head.mass_g`, ""},

		// The configuration.
		{"configuration: functions that are let through", `string(abs(-1) + min(1, 2) + max(1, 2) + round(1.5) + floor(1.5) + ceil(1.5) + int(1.5))`, ""},
		{"configuration: functions that are not", `now()`, `character 1: no function "now" (there are abs, min, max, round, floor, ceil, int, string)`},
		{"configuration: loops", `all([1, 2], # > head.mass_g)`, `character 1: "all([1, 2], # > head.mass_g)" can't be used in a rule`},
		{"configuration: too many parts", "head.latex" + strings.Repeat("==true", 140), "character 605: compilation failed: expression exceeds maximum allowed nodes"},

		// The messages.
		{"message: it stops too early", `head.mass_g >`, "character 13: it stops too early"},
		{"message: one equals sign", `head.mass_g = 3`, `character 13: unexpected token Operator("=") (compare with ==, <= or >=)`},
		{"message: one ampersand", `head.latex & head.latex`, `character 12: unexpected token Operator("&") (write and, or)`},
		{"message: one bar, which is a pipe to expr", `head.latex | head.latex`, `character 18: unexpected token Operator(".")`},
		{"message: AND", `head.latex AND head.latex`, `character 12: unexpected token Identifier("AND") (write and, or)`},
		{"message: a unit", `head.mass_g > 3 g`, `character 17: unexpected token Identifier("g") (numbers stand without a unit, words in quotes)`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := ""
			if _, err := templates.New("{" + tt.expr + "}"); err != nil {
				got = err.Error()
			}
			// Characters are counted in the text, whose brace comes first.
			if tt.want == "" && got != "" || !strings.HasPrefix(shifted(got), tt.want) {
				t.Errorf("%s: got %q, want %q", tt.expr, shifted(got), tt.want)
			}
		})
	}
}

// shifted counts an error's characters without the brace before them.
func shifted(s string) string {
	rest, ok := strings.CutPrefix(s, "character ")
	if !ok {
		return s
	}
	n := 0
	for len(rest) > 0 && rest[0] >= '0' && rest[0] <= '9' {
		n, rest = 10*n+int(rest[0]-'0'), rest[1:]
	}
	return "character " + strconv.Itoa(n-1) + rest
}
