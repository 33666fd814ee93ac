package class

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"mallow/knowledge/yamlfile"
)

// salvage reads a roster that is not YAML as a whole piece by piece: what
// stands before the students, and then each student for itself, so that a
// broken line takes no other student along. Every piece keeps its line.
func (r *rosterReader) salvage(data []byte, x *rosterFile) {
	lines := strings.SplitAfter(string(data), "\n")
	start := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "students:") })
	if start < 0 || len(lines) > 20*mostStudents {
		return
	}
	r.broken = nil
	blank := func(n int) string { return strings.Repeat("\n", n) }
	// What stands before the students, and after them without indent.
	indent, end := -1, start+1
	var starts []int
	for ; end < len(lines); end++ {
		text := strings.TrimLeft(lines[end], " \t")
		deep := len(lines[end]) - len(text)
		if deep == 0 && topField(text) {
			break
		}
		dash := strings.HasPrefix(text, "- ") || strings.TrimSpace(text) == "-"
		// However it is indented, a line with a dash and a name is a student.
		named := strings.HasPrefix(text, "-") && strings.Contains(text, "name:")
		if named || dash && (indent < 0 || deep <= indent) {
			if indent < 0 {
				indent = deep
			}
			starts = append(starts, end)
		}
	}
	rest := ""
	if end < len(lines) {
		rest = blank(end) + strings.Join(lines[end:], "")
		lines = lines[:end]
	}
	for i, part := range []string{strings.Join(lines[:start], ""), rest} {
		var y rosterFile
		if i == 0 {
			r.look(part, 1, start)
		} else {
			r.look(part, end+1, math.MaxInt)
		}
		r.broken = append(r.broken, yamlfile.Decode(r.file, []byte(part), &y)...)
		if y.Class != "" {
			x.Class = y.Class
		}
		if y.Budget != nil {
			x.Budget = y.Budget
		}
		x.Facts, x.Bin = append(x.Facts, y.Facts...), append(x.Bin, y.Bin...)
	}
	for i, at := range starts {
		to := len(lines)
		if i+1 < len(starts) {
			to = starts[i+1]
		}
		var y rosterFile
		part := blank(start) + "students:\n" + blank(at-start-1) + strings.Join(lines[at:to], "")
		errs := yamlfile.Decode(r.file, []byte(part), &y)
		begin := yamlfile.Place{Line: at + 1, Col: indent + 1}
		for _, e := range errs { // the parser may give up before the student's first line, or after the last
			if (yamlfile.Place{Line: e.Line, Col: e.Col}).Before(begin) || e.Line > to {
				e.Line, e.Col = begin.Line, begin.Col
			}
		}
		r.broken = append(r.broken, errs...)
		r.look(part, at+1, to)
		if len(y.Students) == 0 { // nothing but who it is can be told
			lost := studentRecord{At: begin}
			lost.Name.Value, lost.Name.Place = whose(lines[at:to]), lost.At
			y.Students = []studentRecord{lost}
		}
		x.Students = append(x.Students, y.Students...)
	}
}

// whose guesses a student's name from lines that are no YAML.
func whose(lines []string) string {
	_, after, _ := strings.Cut(strings.Join(lines, ""), "name:")
	after = strings.TrimLeft(after, " \"'")
	if i := strings.IndexAny(after, "\"',{}[]:#\n"); i >= 0 {
		after = after[:i]
	}
	name := strings.TrimSpace(strings.Map(func(c rune) rune {
		if unicode.IsPrint(c) {
			return c
		}
		return -1
	}, after))
	return yamlfile.Clip(name)
}

// topField reports whether a line without indent starts a field of a roster.
func topField(line string) bool {
	return slices.ContainsFunc([]string{"class:", "budget:", "facts:", "bin:"}, func(f string) bool { return strings.HasPrefix(line, f) })
}
