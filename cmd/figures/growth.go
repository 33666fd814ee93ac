package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"mallow/knowledge"
	"mallow/rules"
)

// growth measures larger catalogues, books, classes and talks.
func (b *bench) growth() error {
	fmt.Println("| what | processor time | times the one before | clock | most memory |")
	fmt.Println("|---|---|---|---|---|")
	before := map[string]cost{}
	row := func(name string, lines []string, args ...string) error {
		c, err := b.run(b.mallow, lines, args...)
		if err != nil {
			return err
		}
		_, kind, _ := strings.Cut(name, ":")
		times := ""
		if was, ok := before[kind]; ok && kind != "" {
			times = fmt.Sprintf("%.1f", float64(c.processor)/float64(was.processor))
		}
		before[kind] = c
		fmt.Printf("| %s | %s | %s | %s | %.0f MB |\n", name, ms(c.processor), times, ms(c.wall), c.peakMB)
		return nil
	}
	for _, times := range []int{1, 10, 100} {
		parts, err := b.parts(times)
		if err != nil {
			return err
		}
		if err := row(fmt.Sprintf("%d times the catalogue: loaded", times), nil, append(slices.Clone(parts), "parts")...); err != nil {
			return err
		}
	}
	for _, times := range []int{1, 10, 100} {
		parts, err := b.parts(times)
		if err != nil {
			return err
		}
		if err := row(fmt.Sprintf("%d times the catalogue: a sheet for a wish", times), nil, append(parts, "sheet", "--want", "marimba, two mallets, medium")...); err != nil {
			return err
		}
	}
	book, err := b.book(10)
	if err != nil {
		return err
	}
	for _, x := range []struct {
		name string
		args []string
	}{{"1 times the book", nil}, {"10 times the book", []string{"--rules", book}}} {
		if err := row(x.name+": a sheet by it", nil, append(slices.Clone(x.args), "sheet", "--want", "marimba, two mallets, medium")...); err != nil {
			return err
		}
	}
	for _, n := range []int{100, 1000} {
		roster, err := b.roster(n, 20, 0)
		if err != nil {
			return err
		}
		if err := row(fmt.Sprintf("%d students: a class with 20 wishes", n), nil, "class", roster); err != nil {
			return err
		}
	}
	for _, n := range []int{500, 5000} {
		if err := row(fmt.Sprintf("%d lines: of talk", n), talk(n), "--new"); err != nil {
			return err
		}
	}
	return nil
}

// parts writes copies of the shipped parts that make the catalogue so many
// times as large, each a little larger than the one before, and returns the
// flags that read them.
func (b *bench) parts(times int) ([]string, error) {
	var flags []string
	for _, kind := range []string{"cores", "tubing", "yarns"} {
		data, err := os.ReadFile(filepath.Join("knowledge", "catalog", kind+".yaml"))
		if err != nil {
			return nil, err
		}
		var file map[string][]map[string]any
		if err := yaml.Unmarshal(data, &file); err != nil {
			return nil, err
		}
		for from := 1; from < times; from += 20 { // a file has at most a megabyte
			var list []map[string]any
			for k := from; k < min(times, from+20); k++ {
				for _, r := range file[kind] {
					c := map[string]any{}
					for field, v := range r {
						c[field] = v
					}
					c["id"] = fmt.Sprintf("%v.x%d", r["id"], k)
					list = append(list, c)
				}
			}
			name := filepath.Join(b.dir, fmt.Sprintf("%s-%d-%d.yaml", kind, times, from))
			out, err := yaml.Marshal(map[string]any{kind: list})
			if err != nil {
				return nil, err
			}
			if err := os.WriteFile(name, out, 0o600); err != nil {
				return nil, err
			}
			flags = append(flags, "--parts", name)
		}
	}
	return flags, nil
}

// book writes copies of the shipped rules that say something about a head.
func (b *bench) book(times int) (string, error) {
	var list []map[string]any
	names, err := filepath.Glob(filepath.Join("rules", "book", "*.yaml"))
	if err != nil {
		return "", err
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			return "", err
		}
		var file struct{ Rules []map[string]any }
		if err := yaml.Unmarshal(data, &file); err != nil {
			return "", err
		}
		for _, r := range file.Rules {
			if do := rules.Effect(fmt.Sprint(r["do"])); do != rules.Refuse && do != rules.Prefer && do != rules.Note {
				continue
			}
			for k := 1; k < times; k++ {
				c := map[string]any{}
				for field, v := range r {
					c[field] = v
				}
				c["id"] = fmt.Sprintf("%v-%d", r["id"], k)
				list = append(list, c)
			}
		}
	}
	out, err := yaml.Marshal(map[string]any{"rules": list})
	if err != nil {
		return "", err
	}
	name := filepath.Join(b.dir, "rules.yaml")
	return name, os.WriteFile(name, out, 0o600)
}

// roster writes a class of n students with some wishes between them, and a budget
// unless that is zero.
func (b *bench) roster(n, wishes, budget int) (string, error) {
	cat, err := knowledge.Default()
	if err != nil {
		return "", err
	}
	var s strings.Builder
	s.WriteString("class: invented\n")
	if budget > 0 {
		fmt.Fprintf(&s, "budget: %d\n", budget)
	}
	s.WriteString("facts: {player.minor: false, player.latex_ok: true, player.solvent_ok: true}\nstudents:\n")
	for i := range n {
		inst, k := cat.Instruments[i%4].Kind, i%wishes
		fmt.Fprintf(&s, "  - {name: Student %d, facts: {instrument.kind: %s, want.softness: %.1f}}\n", i+1, inst, float64(k/4)*20/float64(wishes)-2)
	}
	name := filepath.Join(b.dir, fmt.Sprintf("class-%d-%d-%d.yaml", n, wishes, budget))
	return name, os.WriteFile(name, []byte(s.String()), 0o600)
}

// work measures sets, classes and the rest that takes longer than a reply.
func (b *bench) work() error {
	fmt.Println("\n| work, start included | processor time | clock | aim |")
	fmt.Println("|---|---|---|---|")
	wishes := map[int]string{}
	for _, n := range []int{20, 81} {
		name, err := b.roster(200, n, 0)
		if err != nil {
			return err
		}
		wishes[n] = name
	}
	tight, err := b.roster(200, 20, 300)
	if err != nil {
		return err
	}
	for _, x := range []struct {
		name, aim string
		args      []string
	}{
		{"a graded set of four", "1.5 s", []string{"set", "4"}},
		{"a class of 200 with 20 different wishes", "10 s", []string{"class", wishes[20]}},
		{"the same with 81", "10 s", []string{"class", wishes[81]}},
		{"the same with 20 and a budget of 300", "10 s", []string{"class", tight}},
		{"a finished head matched by diameter and mass", "1 s", []string{"match", "--diameter", "34.5 mm", "--mass", "26 g"}},
		{"by mass alone", "1 s", []string{"match", "--mass", "26 g"}},
	} {
		c, err := b.run(b.mallow, nil, x.args...)
		if err != nil {
			return err
		}
		fmt.Printf("| %s | %s | %s | %s |\n", x.name, ms(c.processor), ms(c.wall), x.aim)
	}
	return nil
}

// talk is n lines of a long conversation.
func talk(n int) []string {
	lines := []string{asked}
	for range 12 {
		lines = append(lines, "")
	}
	turns := []string{"what is a slice", "softer", "why", "harder", "what is a durometer", "back", "compare 1 and 2"}
	for i := len(lines); i < n; i++ {
		lines = append(lines, turns[i%len(turns)])
	}
	return lines
}
