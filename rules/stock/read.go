package stock

import (
	"fmt"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
)

// ReadBin reads parts on hand in YAML, one line a part:
//
//	poly-1-1/8: 4            # pieces, of cores and shafts
//	latex-3/4x1/8: 1 ft      # tubing, a length
//	wool-medium: 50 g        # yarn, a mass, or a length such as 40 m
//
// Every line that can't be used is reported, as fault.Errors.
func ReadBin(cat *knowledge.Catalogue, file string, data []byte) (*Bin, error) {
	var lines yamlfile.Pairs
	errs := yamlfile.Decode(file, data, &lines)
	bin, ids := &Bin{}, cat.PartIDs()
	for _, p := range lines {
		switch {
		case len(p.Values) != 1:
			errs = append(errs, p.Key.Fault(0, measure.Quote(p.Key.Value)+": an amount is one number with its unit", ""))
			continue
		case !slices.Contains(ids, p.Key.Value):
			errs = append(errs, p.Key.Fault(0, measure.Quote(p.Key.Value)+" is no part of the catalogue", words.Hint(p.Key.Value, ids)))
			continue
		}
		amount, err := ParseAmount(cat, p.Key.Value, p.Values[0].Value)
		if err != nil {
			errs = append(errs, p.Values[0].Fault(0, p.Key.Value+": "+err.Error(), ""))
			continue
		}
		bin.Items = append(bin.Items, Item{p.Key.Value, amount})
	}
	if len(errs) == 0 && len(bin.Items) == 0 {
		return nil, ErrEmptyBin
	}
	return bin, errs.Sorted().Err()
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
