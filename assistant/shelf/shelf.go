// Package shelf keeps what a maker owns: parts with their amounts, and what was
// paid for them, in one YAML file of the maker's own.
//
// It never decides what is built from them. The file is changed under a lock,
// whole or not at all.
package shelf

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"gopkg.in/yaml.v3"

	"mallow/assistant/save"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/knowledge/yamlfile"
	"mallow/rules/stock"
)

// Shelf is what a maker owns.
type Shelf struct {
	Bin  *stock.Bin
	Paid map[string]Paid // by part; what has none is priced by the catalogue
}

// Paid is a price for an amount, in the unit of a stock.Item.
type Paid struct {
	Price  measure.Money
	Amount float64
}

// Path is where the shelf is kept: in the standard directory for a person's
// own data, $XDG_DATA_HOME/mallow, or ~/.local/share/mallow.
func Path(getenv func(string) string) (string, error) {
	dir := getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(dir) { // relative ones are to be ignored, says the standard
		home := getenv("HOME")
		if !filepath.IsAbs(home) {
			return "", errors.New("neither XDG_DATA_HOME nor HOME says where a shelf could be kept")
		}
		dir = filepath.Join(home, ".local", "share")
	}
	return filepath.Join(dir, "mallow", "shelf.yaml"), nil
}

// file is a shelf as it is written:
//
//	parts:
//	  poly-1-1/8: 40
//	  latex-3/4x1/8: [10 ft, 18 in]
//	  birch-16: enough
//	paid:
//	  poly-1-1/8: 5.30 for 10
type file struct {
	Parts yamlfile.Pairs `yaml:"parts"`
	Paid  yamlfile.Pairs `yaml:"paid"`
}

// mostBytes is as much as a shelf may hold.
const mostBytes = 1 << 20

// Read reads the shelf at path; one that is not there is empty. Every line
// that can't be used is reported, as fault.Errors.
func Read(cat *knowledge.Catalogue, path string) (*Shelf, error) {
	s := &Shelf{Bin: &stock.Bin{}, Paid: map[string]Paid{}}
	f, err := os.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return s, nil
	case err != nil:
		return nil, fmt.Errorf("the shelf: %w", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the shelf: %w", err)
	case len(data) > mostBytes:
		return nil, fmt.Errorf("%s: more than %d bytes, the limit", path, mostBytes)
	}
	return Decode(cat, path, data)
}

// Decode reads a shelf; name is what the file is called in errors.
func Decode(cat *knowledge.Catalogue, name string, data []byte) (*Shelf, error) {
	s := &Shelf{Bin: &stock.Bin{}, Paid: map[string]Paid{}}
	if len(strings.TrimSpace(string(data))) == 0 {
		return s, nil
	}
	var x file
	errs := yamlfile.Decode(name, data, &x)
	bin, wrong := stock.FromPairs(cat, x.Parts)
	errs, s.Bin = append(errs, wrong...), bin
	for _, p := range x.Paid {
		id, ok := stock.Named(cat, p.Key.Value)
		if !ok || len(p.Values) != 1 {
			errs = append(errs, p.Key.Fault(0, measure.Quote(p.Key.Value)+" is no part with a price", "such as poly-1: 4.50 for 10"))
			continue
		}
		paid, err := ParsePaid(cat, id, p.Values[0].Value)
		if err != nil {
			errs = append(errs, p.Values[0].Fault(0, err.Error(), ""))
			continue
		}
		s.Paid[id] = paid
	}
	for _, e := range errs {
		if e.File == "" {
			e.File = name
		}
	}
	return s, errs.Sorted().Err()
}

// ParsePaid reads a price such as "4.50 for 10" or "12 for 2 ft"; without an
// amount it is for a pack as the catalogue has it.
func ParsePaid(cat *knowledge.Catalogue, id, text string) (Paid, error) {
	price, amount, of := strings.Cut(text, " for ")
	var p Paid
	p.Amount, _ = stock.Pack(cat, id)
	var err error
	if p.Price, err = measure.ParseMoney(strings.TrimSpace(price)); err != nil {
		return Paid{}, err
	}
	if of {
		if p.Amount, err = stock.ParseAmount(cat, id, strings.TrimSpace(amount)); err != nil {
			return Paid{}, err
		}
	}
	if !(p.Amount > 0) || math.IsInf(p.Amount, 1) {
		return Paid{}, fault.Errorf("%s: a price is for an amount above nothing, such as 4.50 for 10", measure.Quote(text))
	}
	return p, nil
}

// Encode writes a shelf, parts in the catalogue's order.
func (s *Shelf) Encode(cat *knowledge.Catalogue) ([]byte, error) {
	node := func(value string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Value: value} }
	parts, paid := &yaml.Node{Kind: yaml.MappingNode}, &yaml.Node{Kind: yaml.MappingNode}
	for _, id := range cat.PartIDs() {
		var amounts []string
		for _, it := range s.Bin.Items {
			if it.Part == id {
				amounts = append(amounts, stock.Amount(cat, id, it.Amount))
			}
		}
		switch len(amounts) {
		case 0:
		case 1:
			parts.Content = append(parts.Content, node(id), node(amounts[0]))
		default:
			list := &yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle}
			for _, a := range amounts {
				list.Content = append(list.Content, node(a))
			}
			parts.Content = append(parts.Content, node(id), list)
		}
		if p, ok := s.Paid[id]; ok {
			paid.Content = append(paid.Content, node(id), node(p.Price.String()+" for "+stock.Amount(cat, id, p.Amount)))
		}
	}
	doc := &yaml.Node{Kind: yaml.MappingNode, HeadComment: "What is on hand, and what was paid for it. mallow shelf changes it; so may you."}
	for _, x := range []struct {
		name string
		list *yaml.Node
	}{{"parts", parts}, {"paid", paid}} {
		if len(x.list.Content) > 0 {
			doc.Content = append(doc.Content, node(x.name), x.list)
		}
	}
	if len(doc.Content) == 0 {
		return []byte("# Nothing is on the shelf.\n"), nil
	}
	return yaml.Marshal(doc)
}

// Change reads the shelf at path, lets do change it, and writes it back, while
// no other program changes it. If do or anything else fails, or what came of it
// could not be read again, the file is as it was.
func Change(cat *knowledge.Catalogue, path string, do func(*Shelf) error) error {
	return save.Locked(path, func() error {
		s, err := Read(cat, path)
		if err != nil {
			return err
		}
		if err := do(s); err != nil {
			return err
		}
		data, err := s.Encode(cat)
		if err != nil {
			return fmt.Errorf("the shelf: %w", err)
		}
		if len(data) > save.MostBytes {
			return fmt.Errorf("the shelf would come to more than %d bytes, the limit; take off what is used up", save.MostBytes)
		}
		if _, err := Decode(cat, path, data); err != nil {
			return fmt.Errorf("the shelf stays as it was: %w", err)
		}
		return save.File(path, true, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		})
	})
}

// Add puts parts on the shelf: pieces add up, lengths and skeins stay apart.
// What nobody counted stays uncounted.
func (s *Shelf) Add(cat *knowledge.Catalogue, more *stock.Bin) {
	for _, it := range more.Items {
		at := slices.IndexFunc(s.Bin.Items, func(x stock.Item) bool { return x.Part == it.Part })
		switch {
		case at < 0 || !stock.Counted(cat, it.Part) && !math.IsInf(it.Amount, 1) && !math.IsInf(s.Bin.Items[at].Amount, 1):
			s.Bin.Items = append(s.Bin.Items, it)
		case math.IsInf(it.Amount, 1):
			s.remove(it.Part)
			s.Bin.Items = append(s.Bin.Items, it)
		default:
			s.Bin.Items[at].Amount += it.Amount
		}
	}
}

func (s *Shelf) remove(part string) {
	s.Bin.Items = slices.DeleteFunc(s.Bin.Items, func(x stock.Item) bool { return x.Part == part })
}

// Take takes parts off the shelf, a part without a count altogether. A length
// comes out of the shortest that is long enough. Nothing is taken when
// anything falls short.
func (s *Shelf) Take(cat *knowledge.Catalogue, less *stock.Bin) error {
	items := slices.Clone(s.Bin.Items)
	for _, it := range less.Items {
		have := (&stock.Bin{Items: items}).OnHand(it.Part)
		switch {
		case math.IsInf(it.Amount, 1):
			items = slices.DeleteFunc(items, func(x stock.Item) bool { return x.Part == it.Part })
			continue
		case math.IsInf(have, 1):
			continue // still enough
		}
		best := -1
		for i, x := range items {
			if x.Part == it.Part && x.Amount >= it.Amount-1e-9 && (best < 0 || x.Amount < items[best].Amount) {
				best = i
			}
		}
		if best < 0 {
			return fault.Errorf("%s: %s is not there; the shelf has %s", it.Part, stock.Amount(cat, it.Part, it.Amount), cmp.Or(s.amounts(cat, it.Part), "none"))
		}
		items[best].Amount -= it.Amount
	}
	s.Bin.Items = slices.DeleteFunc(items, func(x stock.Item) bool { return x.Amount < 1e-9 })
	return nil
}

func (s *Shelf) amounts(cat *knowledge.Catalogue, part string) string {
	var list []string
	for _, it := range s.Bin.Items {
		if it.Part == part {
			list = append(list, stock.Amount(cat, part, it.Amount))
		}
	}
	return strings.Join(list, ", ")
}

// Worth is what an amount of a part cost, and whether the maker said so or the
// catalogue. What nobody counted has no worth.
func (s *Shelf) Worth(cat *knowledge.Catalogue, part string, amount float64) (m measure.Money, own, ok bool) {
	p, own := s.Paid[part]
	if !own {
		p.Amount, p.Price = stock.Pack(cat, part)
	}
	if math.IsInf(amount, 1) || !(p.Amount > 0) {
		return 0, own, false
	}
	return measure.Money(math.Round(float64(p.Price) * amount / p.Amount)), own, true
}
