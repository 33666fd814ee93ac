package stock

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"

	"gopkg.in/yaml.v3"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
)

// BinError is a line of a bin file that can't be used.
type BinError struct {
	File string
	Line int
	Text string
}

func (e *BinError) Error() string { return fmt.Sprintf("%s:%d: %s", e.File, e.Line, e.Text) }

// maxBin bounds a bin file, in bytes.
const maxBin = 1 << 20

// ReadBin reads parts on hand in YAML, one line a part:
//
//	poly-1-1/8: 4            # pieces, of cores and shafts
//	latex-3/4x1/8: 1 ft      # tubing, a length
//	wool-medium: 50 g        # yarn, a mass, or a length such as 40 m
//
// Every line that can't be used is reported; the errors are BinErrors.
func ReadBin(cat *knowledge.Catalogue, file string, data []byte) (*Bin, error) {
	wrong := func(line int, format string, args ...any) error {
		return &BinError{file, line, fmt.Sprintf(format, args...)}
	}
	if len(data) > maxBin {
		return nil, wrong(1, "a bin file has at most %d bytes", maxBin)
	}
	var doc yaml.Node
	dec := yaml.NewDecoder(bytes.NewReader(data))
	switch err := dec.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, ErrEmptyBin
	case err != nil:
		return nil, wrong(1, "not YAML: %v", err)
	}
	if err := dec.Decode(new(yaml.Node)); !errors.Is(err, io.EOF) {
		return nil, wrong(1, "a bin file holds one document")
	}
	list := doc.Content[0]
	if list.Kind != yaml.MappingNode {
		return nil, wrong(list.Line, "a bin file has a part and its amount on each line, such as 'poly-1-1/8: 4'")
	}
	bin, ids := &Bin{}, cat.PartIDs()
	var errs []error
	for i := 0; i+1 < len(list.Content); i += 2 {
		key, value := list.Content[i], list.Content[i+1]
		switch {
		case value.Kind != yaml.ScalarNode:
			errs = append(errs, wrong(value.Line, "%s: an amount is one number with its unit", measure.Quote(key.Value)))
			continue
		case !slices.Contains(ids, key.Value):
			hint := words.Hint(key.Value, ids)
			if hint != "" {
				hint = " (" + hint + ")"
			}
			errs = append(errs, wrong(key.Line, "%s is no part of the catalogue%s", measure.Quote(key.Value), hint))
			continue
		}
		amount, err := ParseAmount(cat, key.Value, value.Value)
		if err != nil {
			errs = append(errs, wrong(value.Line, "%s: %v", key.Value, err))
			continue
		}
		bin.Items = append(bin.Items, Item{key.Value, amount})
	}
	if len(errs) == 0 && len(bin.Items) == 0 {
		return nil, ErrEmptyBin
	}
	return bin, errors.Join(errs...)
}

// ParseAmount reads an amount of a part in the unit that an Item counts in.
func ParseAmount(cat *knowledge.Catalogue, part, text string) (float64, error) {
	if _, ok := cat.Tube(part); ok {
		l, err := measure.ParseLength(text, 0)
		return float64(l), err
	}
	if yarn, ok := cat.Yarn(part); ok {
		if m, err := measure.ParseMass(text, 0); err == nil {
			return float64(m), nil
		}
		l, err := measure.ParseLength(text, 0)
		if err != nil {
			return 0, fmt.Errorf("%s is no amount of yarn; try 50 g or 40 m", measure.Quote(text))
		}
		return float64(l) * yarn.Tex.Value * 1e-6, nil // tex is grams a kilometre
	}
	var n int
	if _, err := fmt.Sscanf(text, "%d", &n); err != nil || fmt.Sprint(n) != text || n < 0 || n > 1e6 {
		return 0, fmt.Errorf("%s is no number of pieces; try 2", measure.Quote(text))
	}
	return float64(n), nil
}
