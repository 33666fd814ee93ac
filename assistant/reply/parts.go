package reply

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/measure"
)

// Record is one record of the knowledge, whatever its kind.
type Record struct {
	Kind   string  `json:"kind"` // as in the knowledge files: cores, tubing, …
	ID     string  `json:"id"`
	Name   string  `json:"name,omitempty"`
	Size   string  `json:"size,omitempty"`
	Price  string  `json:"price,omitempty"` // of a pack
	Mark   string  `json:"mark,omitempty"`  // how far its source can be trusted
	From   string  `json:"from"`            // where it stands
	Own    bool    `json:"own"`             // the user's own, or changed by them
	Fields []Field `json:"fields"`
}

// Field is what a record says under one name of its YAML file.
type Field struct {
	Name   string `json:"name"`
	Value  string `json:"value"`
	Source string `json:"source,omitempty"` // in full, with its mark
}

// Records lists all that a catalogue knows, kind by kind. Those that whole does
// not ask for say only their kind, their id and where they are from.
func Records(cat *knowledge.Catalogue, whole func(kind, id string) bool) []Record {
	var list []Record
	v := reflect.ValueOf(*cat)
	for i := range v.NumField() {
		kind := yamlName(v.Type().Field(i))
		if kind == "" || v.Field(i).Kind() != reflect.Slice {
			continue
		}
		for j := range v.Field(i).Len() {
			if at := v.Field(i).Index(j); whole(kind, at.FieldByName("ID").String()) {
				list = append(list, record(cat, kind, at))
			} else {
				list = append(list, brief(kind, at))
			}
		}
	}
	return list
}

func brief(kind string, v reflect.Value) Record {
	o, _ := v.FieldByName("Origin").Interface().(knowledge.Origin)
	return Record{Kind: kind, ID: v.FieldByName("ID").String(), From: o.String(), Own: o.Own}
}

func record(cat *knowledge.Catalogue, kind string, v reflect.Value) Record {
	r := brief(kind, v)
	for i := range v.NumField() {
		field := yamlName(v.Type().Field(i))
		if field == "" || field == "id" {
			continue
		}
		text, source := fieldText(v.Field(i))
		if text == "" {
			continue
		}
		switch field {
		case "name", "title", "ask", "hazard", "means", "cite", "value", "say":
			if r.Name == "" {
				r.Name = text
			}
		case "source", "price_source":
			source, text = text, ""
			if field == "source" {
				r.Mark = mark(cat, source)
			}
		case "price":
			r.Price = text
		}
		f := Field{Name: field, Value: text, Source: cite(cat, source)}
		r.Fields = append(r.Fields, f)
	}
	r.Size = size(v.Interface())
	if m := mark(cat, priceSource(v)); r.Price != "" && m != "" {
		r.Price += " (" + m + ")"
	}
	return r
}

func yamlName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	if name == "-" {
		return ""
	}
	if name == "" {
		return strings.ToLower(f.Name)
	}
	return name
}

// fieldText is a field in words, and the source of a quantity. What was left
// out of the file gives nothing.
func fieldText(v reflect.Value) (text, source string) {
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return "", ""
		}
		v = v.Elem()
	}
	switch x := v.Interface().(type) {
	case knowledge.Quantity:
		if x == (knowledge.Quantity{}) {
			return "", ""
		}
		text = fmt.Sprintf("%g", x.Value)
		if x.Tol != 0 {
			text += fmt.Sprintf(" ± %g", x.Tol)
		}
		return text, x.Source
	case string:
		return strings.Join(strings.Fields(x), " "), ""
	}
	if v.IsZero() {
		return "", ""
	}
	switch v.Kind() {
	case reflect.Slice:
		var items []string
		for i := range v.Len() {
			item, _ := fieldText(v.Index(i))
			items = append(items, item)
		}
		return strings.Join(items, "; "), ""
	case reflect.Struct:
		var items []string
		for i := range v.NumField() {
			if item, _ := fieldText(v.Field(i)); item != "" {
				items = append(items, item)
			}
		}
		return strings.Join(items, ", "), ""
	}
	return fmt.Sprint(v.Interface()), ""
}

// size is the size of a part in a few words.
func size(part any) string {
	of := func(name string, l measure.Length) string {
		if l == 0 {
			return ""
		}
		return name + " " + l.Sold()
	}
	var list []string
	switch x := part.(type) {
	case knowledge.Core:
		list = []string{x.Diameter.String(), of("bore", x.Bore)}
	case knowledge.Tube:
		list = []string{of("bore", x.Bore), of("wall", x.Wall)}
	case knowledge.Yarn:
		list = []string{fmt.Sprintf("%g tex", x.Tex.Value), fmt.Sprintf("%d plies", x.Plies)}
	case knowledge.Shaft:
		list = []string{x.Length.Sold() + " long", x.Diameter.Sold() + " thick", x.Mass.String()}
	case knowledge.Instrument:
		list = []string{fmt.Sprintf("%s to %s", x.Low, x.High)}
	}
	return strings.Join(slices.DeleteFunc(list, func(s string) bool { return s == "" }), ", ")
}

func priceSource(v reflect.Value) string {
	if f := v.FieldByName("PriceSource"); f.IsValid() {
		return f.String()
	}
	return ""
}

func mark(cat *knowledge.Catalogue, source string) string {
	s, _ := cat.Source(source)
	return s.Mark
}

// cite is a source in full.
func cite(cat *knowledge.Catalogue, source string) string {
	if s, ok := cat.Source(source); ok {
		return fmt.Sprintf("%s [%s]", strings.Join(strings.Fields(s.Cite), " "), s.Mark)
	}
	return source
}

// Parts are records that were asked for. Its JSON is the list.
type Parts struct {
	List   []Record
	Kind   bool               // they are all of one kind
	All    bool               // nothing narrower was asked for
	Hidden []knowledge.Hidden // by the user
}

// MarshalJSON writes the list.
func (v Parts) MarshalJSON() ([]byte, error) { return json.Marshal(v.List) }

// Page shows the kinds when all was asked for, else the kind, or each record
// whole: kinds may share an id.
func (v Parts) Page() page.Page {
	switch {
	case v.All:
		return kinds(v.List, v.Hidden)
	case v.Kind:
		return kind(v.List)
	}
	var p page.Page
	for _, r := range v.List {
		p = append(p, r.Page()...)
	}
	return p
}

// kinds counts the records of each kind, then lists what is the user's own:
// added, changed and hidden.
func kinds(list []Record, hidden []knowledge.Hidden) page.Page {
	t := page.Table{Title: "What mallow knows. `mallow parts KIND` lists a kind, `mallow parts ID` shows one record whole.",
		Head: []string{"kind", "records", "yours"}, Right: []bool{false, true, true}}
	var own []Record
	for i := 0; i < len(list); {
		n, mine := 0, 0
		kind := list[i].Kind
		for ; i < len(list) && list[i].Kind == kind; i++ {
			if n++; list[i].Own {
				own = append(own, list[i])
				mine++
			}
		}
		t.Rows = append(t.Rows, []string{kind, fmt.Sprint(n), fmt.Sprint(mine)})
	}
	p := page.Page{t}
	if len(own) > 0 {
		x := page.Table{Title: "Yours, or changed by you:", Head: []string{"id", "kind", "from"}}
		for _, r := range own {
			x.Rows = append(x.Rows, []string{r.ID, r.Kind, r.From})
		}
		p = append(p, x)
	}
	for _, h := range hidden {
		p = append(p, page.Para(fmt.Sprintf("%s %s is hidden by you: %s.", h.Kind, h.ID, h.Origin)))
	}
	return p
}

// kind lists the records of one kind.
func kind(list []Record) page.Page {
	sized := slices.ContainsFunc(list, func(r Record) bool { return r.Size != "" })
	priced := slices.ContainsFunc(list, func(r Record) bool { return r.Price != "" })
	own := slices.ContainsFunc(list, func(r Record) bool { return r.Own })
	row := func(id, name, size, price, source, from string) []string {
		cells := []string{id, name}
		if sized {
			cells = append(cells, size)
		}
		if priced {
			cells = append(cells, price)
		}
		cells = append(cells, source)
		if own {
			cells = append(cells, from)
		}
		return cells
	}
	t := page.Table{Title: fmt.Sprintf("%d %s", len(list), list[0].Kind), Head: row("id", "name", "size", "price of a pack", "source", "yours")}
	for _, r := range list {
		from := ""
		if r.Own {
			from = r.From
		}
		name := []rune(r.Name)
		if len(name) > 60 {
			name = append(name[:59], '…')
		}
		t.Rows = append(t.Rows, row(r.ID, string(name), r.Size, r.Price, r.Mark, from))
	}
	return page.Page{t}
}

// Page shows a record whole, with the source of every figure.
func (r Record) Page() page.Page {
	var items []string
	for _, f := range r.Fields {
		item := f.Name + ": " + f.Value
		switch {
		case f.Value == "":
			item = f.Name + ": " + f.Source
		case f.Source != "":
			item += ". Source: " + f.Source
		}
		items = append(items, item)
	}
	from := "Shipped with mallow: "
	if r.Own {
		from = "Yours: from "
	}
	return page.Page{page.Heading{Level: 1, Text: r.Kind + " " + r.ID}, page.Para(from + r.From + "."), page.List{Items: items}}
}
