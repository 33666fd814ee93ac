package assistant

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/identify"
)

// old is an old head whose stack is being found, for a job on it. The zero
// value is none.
type old struct {
	Open  bool
	Job   string   // of the catalogue's jobs
	Could []string // stacks that it could be, likeliest first
}

// likely is how many stacks are laid before a person.
const likely = 4

// unknown begins to find out what an old head is.
func (s building) unknown(job string) Reply {
	var r Reply
	s.remember()
	s.now.old = old{Open: true, Job: job}
	r.Say("Which head? Where you know what is in it, say it from the inside out: poly-1-1/8 + latex-3/4x1/8 + wool-medium*128. Where not, measure it as it is, yarn and all: across the belt, and its weight without the shaft (or weigh a shaft like it and take that off). Say too what shows: a plastic, wood or rubber ball at the bore; wool, cotton or nylon yarn.")
	return s.ask(r)
}

// found takes what an old head measures, or which of those it could be it is,
// and reports whether the line was either.
func (s building) found(line string) (Reply, bool) {
	var r Reply
	plain := answer.Plain(line)
	if st, err := s.kit.Stack(line); err == nil && (strings.Contains(line, "+") || !strings.Contains(line, " ")) {
		return s.take(st), true
	}
	if n, err := strconv.Atoi(plain); len(s.now.old.Could) > 0 && (err == nil || plain == "") {
		if plain == "" {
			n = 1
		}
		if n < 1 || n > len(s.now.old.Could) {
			r.Say("Say a number from 1 to %d, or measure again.", len(s.now.old.Could))
			return s.ask(r), true
		}
		st, err := head.Parse(s.kit.Catalogue, s.now.old.Could[n-1])
		if err != nil {
			r.Say("%s", reply.Told(err))
			return s.ask(r), true
		}
		return s.take(st), true
	}
	if slices.Contains([]string{"", "never mind", "cancel", "back", "no", "stop"}, plain) {
		s.now.old = old{}
		r.Say("All right, no old head.")
		return s.ask(r), true
	}
	m, ok := s.measured(line)
	if !ok {
		s.now.old = old{} // about something else
		return r, false
	}
	likes, err := identify.Head(context.Background(), s.kit.Finder, m)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return s.ask(r), true
	}
	s.now.old.Could = nil
	var list []string
	for _, l := range likes.Likely[:min(likely, len(likes.Likely))] {
		s.now.old.Could = append(s.now.old.Could, l.Stack.String())
		list = append(list, fmt.Sprintf("%s (%.0f %%)", s.teller().Words().Stack(l.Stack), 100*l.Share))
	}
	r.Say("Of all heads of parts that I know, it is likeliest one of these:")
	r.Page = append(r.Page, page.List{Numbered: true, Items: list})
	if n := likes.Next; n != nil {
		r.Say("To be surer: %s, and say all figures again. Once the yarn is off, what I ask for settles the rest.", n.How)
	}
	return s.ask(r), true
}

// take begins the job on a head.
func (s building) take(st head.Stack) Reply {
	job := s.now.old.Job
	s.now.old = old{}
	s.remember()
	s.now.pick(st)
	return s.start(Reply{}, job)
}

// measured reads what an old head measures and shows: a length, a mass, what its
// core and its yarn are of.
func (s building) measured(line string) (m identify.Measured, ok bool) {
	lower := strings.ToLower(line)
	for _, x := range s.kit.Catalogue.Materials {
		if x.Family == "fibre" && answer.Holds(answer.Plain(line), strings.TrimSuffix(x.ID, "-fibre")) {
			m.Fibre = x.ID
		}
	}
	for _, core := range []string{"plastic", "wood", "rubber"} {
		if strings.Contains(lower, core) {
			m.Core = core
		}
	}
	words := strings.FieldsFunc(lower, func(r rune) bool { return strings.ContainsRune(" ,;", r) })
	for i := 0; i < len(words); i++ {
		for n := 3; n > 0; n-- { // 1 7/16 in, 37 mm, 22g
			if i+n > len(words) {
				continue
			}
			text := strings.Join(words[i:i+n], " ")
			if !strings.ContainsAny(text[:1], "0123456789") {
				continue
			}
			if x, err := measure.ParseMass(text, 0); err == nil && m.MassG == 0 {
				m.MassG = x.Grams()
				i += n - 1
				break
			}
			if x, err := measure.ParseLength(text, 0); err == nil && m.DiameterMM == 0 {
				m.DiameterMM = x.MM()
				i += n - 1
				break
			}
		}
	}
	return m, m.MassG > 0 || m.DiameterMM > 0
}
