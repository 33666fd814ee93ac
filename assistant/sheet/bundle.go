package sheet

import (
	"cmp"
	"errors"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"mallow/assistant/chart"
	"mallow/assistant/draw"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/web"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Bundle is the sheets of several heads under one overview: a graded set, or
// a class. What is the same for all is said once.
type Bundle struct {
	Title string `json:"title"`
	// Notes are what has to be known before anything is bought or built.
	Notes   []string `json:"notes,omitempty"`
	Without []Absent `json:"without,omitempty"` // who gets no sheet
	Rows    []Row    `json:"heads"`
	Buy     *Buy     `json:"buy,omitempty"` // for all of them together
	Sheets  []Sheet  `json:"sheets"`        // one for each row

	Plan  []Lesson `json:"plan,omitempty"` // of a class
	room  Room
	least int // lessons that no plan can be under

	class bool // rows are people, each with a part of a page
	plots []draw.Plot
}

// Row is one head of a bundle at a glance.
type Row struct {
	Name string `json:"name"` // whom or what it is for
	reply.Pick
	Heads  int `json:"heads"`
	Design int `json:"design"` // rows of one design are built alike, from 1
}

// Absent is somebody for whom there is no sheet.
type Absent struct {
	Name string `json:"name"`
	Why  string `json:"why"`
}

// Entry is one head of a bundle to be made.
type Entry struct {
	Candidate propose.Candidate
	Options   Options // For names the row
	Trouble   string  // why there is no head; empty where there is one
}

// Set returns the sheets of a graded set, hardest or softest first as given,
// with its ladder. The order is for all of it; nil leaves it out.
func (m *Maker) Set(title string, set []Entry, order *stock.Order) (Bundle, error) {
	b, err := m.bundle(title, set, order)
	heads := make([]chart.Head, len(set))
	for i, e := range set {
		heads[i] = shown(fmt.Sprint(i+1), e.Candidate)
	}
	b.plots = m.charts.Ladder(heads)
	return b, err
}

// Class returns the sheets of several makers. The order is for all of them;
// nil leaves it out. The error joins what keeps each sheet from being made;
// the bundle holds the others all the same.
func (m *Maker) Class(title string, class []Entry, order *stock.Order) (Bundle, error) {
	b, err := m.bundle(title, class, order)
	b.class = true
	return b, err
}

func (m *Maker) bundle(title string, list []Entry, order *stock.Order) (Bundle, error) {
	b := Bundle{Title: cmp.Or(title, "A class")}
	var errs []error
	designs := map[string]int{}
	used := map[string]bool{} // glues and thread of any sheet
	for i, e := range list {
		name := cmp.Or(e.Options.For, fmt.Sprint(i+1))
		if e.Trouble != "" {
			b.Without = append(b.Without, Absent{name, e.Trouble})
			continue
		}
		o := e.Options
		o.Order, o.shared = nil, order
		s, err := m.Sheet(e.Candidate, o)
		if err != nil {
			errs = append(errs, fmt.Errorf("no sheet for %s: %w", name, err))
			b.Without = append(b.Without, Absent{name, reply.Sentence(err)})
			continue
		}
		key := s.design()
		if designs[key] == 0 {
			designs[key] = len(designs) + 1
		}
		for _, p := range s.Parts {
			used[p.ID] = true
		}
		b.Rows = append(b.Rows, Row{name, reply.In(m.cat).NewPick(e.Candidate), s.Heads, designs[key]})
		b.Sheets = append(b.Sheets, s)
	}
	b.Buy = m.buy(only(order, used))
	return b, errors.Join(errs...)
}

// design tells sheets apart by the head and by what is done for it: two makers
// of one head may have different steps and cautions.
func (s Sheet) design() string {
	var b strings.Builder
	b.WriteString(s.Stack)
	for _, x := range s.Steps {
		fmt.Fprintf(&b, " %s%d", x.ID, x.Layer)
		for _, c := range x.Cautions {
			b.WriteString("," + c.ID)
		}
	}
	return b.String()
}

// designs returns one sheet of each design, in their order, and whom each is
// for.
func (b Bundle) designs() (sheets []Sheet, who [][]string) {
	for i, r := range b.Rows {
		if r.Design > len(sheets) {
			sheets, who = append(sheets, b.Sheets[i]), append(who, nil)
		}
		who[r.Design-1] = append(who[r.Design-1], r.Name)
	}
	return sheets, who
}

// common is the steps, cautions and tools of all designs together: a step
// that some leave out says whom it is for, and numbers that differ are left
// open.
func (b Bundle) common() Sheet {
	sheets, _ := b.designs()
	all := Sheet{Cuts: []Cut{}}
	if len(sheets) > 0 {
		all.section, all.trials = sheets[0].section, sheets[0].trials
	}
	type place struct {
		id    string
		layer int
	}
	where := map[place][]int{} // designs, from 0
	at := map[place]Step{}
	var order []place
	for d, s := range sheets {
		after := 0
		for _, x := range s.Steps {
			p := place{x.ID, x.Layer}
			if where[p] == nil {
				order = slices.Insert(order, after, p)
			}
			after = slices.Index(order, p) + 1
			where[p] = append(where[p], d)
			at[p] = merge(at[p], x, len(where[p]) == 1)
		}
		for _, t := range s.Tools {
			if i := slices.IndexFunc(all.Tools, func(x Tool) bool { return x.Name == t.Name }); i < 0 {
				all.Tools = append(all.Tools, t)
			} else {
				all.Tools[i].Optional = all.Tools[i].Optional && t.Optional
			}
		}
		all.Safety.Rule, all.Safety.Latex = s.Safety.Rule, all.Safety.Latex || s.Safety.Latex
		for _, v := range s.Safety.Solvents {
			if !slices.ContainsFunc(all.Safety.Solvents, func(x Solvent) bool { return x.Name == v.Name }) {
				all.Safety.Solvents = append(all.Safety.Solvents, v)
			}
		}
	}
	first := map[string]int{}
	for i, p := range order {
		x := at[p]
		x.Number = i + 1
		if n := len(where[p]); n < len(sheets) {
			var names []string
			for _, d := range where[p] {
				names = append(names, fmt.Sprint(d+1))
			}
			x.Only = "head " + strings.Join(names, ", ")
		}
		x.Cautions = slices.Clone(x.Cautions)
		for j, c := range x.Cautions {
			if first[c.ID] == 0 {
				first[c.ID] = x.Number
				c.First = x.Number
				all.Safety.Cautions = append(all.Safety.Cautions, c)
			}
			x.Cautions[j].First = first[c.ID]
		}
		all.Steps = append(all.Steps, x)
	}
	refer(all.Steps)
	return all
}

// merge is what a step says for two heads: texts that agree stay, of others
// the form with open numbers, the longer where those differ too.
func merge(a, b Step, first bool) Step {
	if first {
		return b
	}
	longer := func(x, y string) string {
		if len(y) > len(x) {
			return y
		}
		return x
	}
	for _, f := range []struct {
		is      *string
		and     string
		open    *string
		andOpen string
	}{
		{&a.Title, b.Title, &a.general.title, b.general.title}, {&a.Text, b.Text, &a.general.text, b.general.text},
		{&a.Check, b.Check, &a.general.check, b.general.check}, {&a.IfOff, b.IfOff, &a.general.ifOff, b.general.ifOff},
		{&a.Undo, b.Undo, &a.general.undo, b.general.undo},
	} {
		*f.open = longer(*f.open, f.andOpen)
		if *f.is != f.and {
			*f.is = *f.open
		}
	}
	a.WaitMin = max(a.WaitMin, b.WaitMin)
	for _, c := range b.Cautions {
		if !slices.ContainsFunc(a.Cautions, func(x Caution) bool { return x.ID == c.ID }) {
			a.Cautions = append(slices.Clone(a.Cautions), c)
		}
	}
	return a
}

// figures are a head's own numbers for the steps that say … on the page for
// all.
func figures(s Sheet, all Sheet) []Item {
	var list []Item
	for _, x := range s.Steps {
		i := slices.IndexFunc(all.Steps, func(y Step) bool { return y.ID == x.ID && y.Layer == x.Layer })
		if i < 0 {
			continue
		}
		var own []string
		if strings.Contains(all.Steps[i].Text, "…") {
			own = append(own, differing(x.Text, all.Steps[i].Text)...)
		}
		own = append(own, differing(x.Check, all.Steps[i].Check)...)
		if len(own) > 0 {
			list = append(list, Item{fmt.Sprintf("%d. %s", all.Steps[i].Number, x.Title), strings.Join(own, " ")})
		}
	}
	return list
}

// differing are the sentences of a text that another has not.
func differing(text, other string) []string {
	var list []string
	for _, s := range strings.SplitAfter(text, ". ") {
		if s = strings.TrimSpace(s); !strings.Contains(other, s) {
			list = append(list, s)
		}
	}
	return list
}

// warned are the names of the cautions of a sheet.
func (s Sheet) warned() string {
	var list []string
	for _, c := range s.Safety.Cautions {
		list = append(list, c.Name)
	}
	return strings.Join(list, ", ")
}

// Page returns the overview, the steps and safety once for all, then each
// head, then each maker.
func (b Bundle) Page(width int) page.Page {
	t := page.Table{Title: "Who builds what", Head: []string{"for", "head", "stack", "grade", "notches", "mass", "to build"},
		Right: []bool{false, true, false, false, true, true, true}}
	for _, r := range b.Rows {
		t.Rows = append(t.Rows, []string{r.Name, fmt.Sprint(r.Design), r.Plain, r.Grade, fmt.Sprintf("%+.1f", r.Softness+0),
			fmt.Sprintf("%.1f g", r.MassG), fmt.Sprint(r.Heads)})
	}
	p := page.Page{page.Heading{Level: 1, Text: b.Title}}
	if list := b.assumed(); len(list) > 0 {
		p = append(p, page.Para("What was not asked comes first:"), page.List{Items: list})
	}
	if len(b.Without) > 0 {
		p = append(p, page.Para("No sheet:"), page.List{Items: b.absent()})
	}
	for _, n := range b.Notes {
		p = append(p, page.Para(n))
	}
	p = append(append(p, t), b.Buy.page()...)
	if len(b.Plan) > 0 {
		lessons, how := b.planned()
		p = append(p, page.Heading{Level: 2, Text: "Lessons"}, lessons, page.Para(how))
	}
	all := b.common()
	p = append(p, page.Heading{Level: 2, Text: "Steps, for all"},
		page.Para("A … stands for a figure that differs from head to head: it stands with your head."),
		page.Para("Tools: "+strings.Join(all.toolList(), "; ")+"."))
	for _, x := range all.Steps {
		p = append(p, x.page()...)
	}
	p = append(p, all.Safety.page()...)
	sheets, who := b.designs()
	for i, s := range sheets {
		p = append(p, page.Heading{Level: 2, Text: fmt.Sprintf("Head %d, for %s", i+1, strings.Join(who[i], ", "))},
			page.Para(fmt.Sprintf("Stack, inside out: %s. %s", s.Stack, s.Effort)), page.List{Items: lines(s.Summary)},
			page.Picture{Lines: s.section.Rows(min(width, sectionColumns)), Alt: strings.Join(s.section.List(), " ")},
			page.List{Items: s.shopping()}, page.List{Items: lines(figures(s, all))})
	}
	return p
}

// absent says who gets no sheet, and why.
func (b Bundle) absent() []string {
	var list []string
	for _, x := range b.Without {
		list = append(list, x.Name+": "+x.Why)
	}
	return list
}

// assumed is what nobody was asked, with the makers of whom it is true.
func (b Bundle) assumed() []string {
	var says, list []string
	whom := map[string][]string{}
	for i, s := range b.Sheets {
		for _, x := range s.Says() {
			if whom[x] == nil {
				says = append(says, x)
			}
			whom[x] = append(whom[x], b.Rows[min(i, len(b.Rows)-1)].Name)
		}
	}
	for _, x := range says {
		if len(whom[x]) < len(b.Sheets) {
			x = strings.Join(whom[x], ", ") + ": " + x
		}
		list = append(list, x)
	}
	return list
}

// Text writes the bundle for a terminal.
func (b Bundle) Text(w io.Writer, style page.Style) error {
	return page.Text(w, b.Page(style.Width), style)
}

// Markdown writes the bundle as Markdown.
func (b Bundle) Markdown(w io.Writer) error { return page.Markdown(w, b.Page(page.MaxWidth)) }

// JSON writes the bundle as indented JSON.
func (b Bundle) JSON(w io.Writer) error { return page.JSON(w, b) }

// designView is a head of a bundle as the template sees it.
type designView struct {
	view
	Who     string
	Figures []Item
	Strips  []template.HTML
}

// makerView is a maker of a class as the template sees it.
type makerView struct {
	Row
	Says     []string // what was not asked
	Warnings []string
	Bag      []string
	Expect   []Item
	Columns  []int // one for each head to build
}

// mostColumns is how many heads a maker's table has room for.
const mostColumns = 6

// HTML writes the bundle as one page that stands alone.
func (b Bundle) HTML(w io.Writer) error {
	all := b.common()
	common, err := newView("all-", 1, all)
	if err != nil {
		return fmt.Errorf("sheet: %w", err)
	}
	data := struct {
		Bundle
		Said    []string // what was not asked
		Plots   []web.Figure
		Cuts    *web.Figure // of a set, at one scale
		Lessons page.Table
		How     string
		Found   []string // what is collected of every maker
		Common  view
		Designs []designView
		Makers  []makerView
	}{Bundle: b, Said: b.assumed(), Common: common}
	if data.Plots, err = web.Figures("all-", b.plots); err != nil {
		return err
	}
	if !b.class && len(b.Sheets) > 1 {
		var cuts []draw.Named
		for i, s := range b.Sheets {
			cuts = append(cuts, draw.Named{Name: fmt.Sprintf("head %d", i+1), Section: s.section})
		}
		data.Cuts = &web.Figure{SVG: template.HTML(draw.Row("all-cuts", cuts)), Title: "Cut through the shaft", Caption: "The heads of the set from the first to the last, at one scale."}
	}
	if len(b.Plan) > 0 {
		data.Lessons, data.How = b.planned()
		data.Found = []string{"ball, g", "so far, g", "head, g", "across, mm", "squeezed, kg", "turns"}
	}
	sheets, who := b.designs()
	for i, s := range sheets {
		s.Title = fmt.Sprintf("Head %d", i+1)
		v, err := newView(fmt.Sprintf("s%d-", i+1), 2, s)
		if err != nil {
			return fmt.Errorf("sheet: %w", err)
		}
		var strips []template.HTML
		for _, t := range draw.Strips(v.ID+"strips", s.section) {
			strips = append(strips, template.HTML(t.SVG))
		}
		data.Designs = append(data.Designs, designView{v, strings.Join(who[i], ", "), figures(s, all), strips})
	}
	for i, r := range b.Rows {
		if !b.class {
			break
		}
		s := b.Sheets[i]
		m := makerView{Row: r, Bag: s.shopping(), Says: s.Says()}
		m.Warnings = []string{"Cautions at these steps: " + s.warned() + ". " + briefly}
		for _, x := range s.Steps {
			switch x.ID {
			case "weigh-core", "weigh-after-layer", "measure-after-layer", "wrap-second", "weigh-head":
				m.Expect = append(m.Expect, Item{x.Title, x.Check})
			}
		}
		for n := range min(r.Heads, mostColumns) {
			m.Columns = append(m.Columns, n+1)
		}
		data.Makers = append(data.Makers, m)
	}
	return write(w, b.Title, "bundle", data)
}
