// Package few knows catalogues of few parts, so that the searches of tests are
// quick and the tests are about the conversation. It is for tests alone.
package few

import (
	"slices"

	"mallow/knowledge"
)

// Parts returns the catalogue with the parts of a small bench, and all else
// that is shipped.
func Parts() (*knowledge.Catalogue, error) {
	return Of(
		"poly-1-1/8", "poly-1-1/8-drilled", "poly-1", "rubber-40a-1-1/8", "rubber-50a-1-1/8", "rubber-60a-1-1/8", "rubber-75a-1-1/8", "maple-1-1/8",
		"latex-3/4x1/8", "latex-3/4x1/16", "latex-1x1/8", "latex-1-1/8x1/8", "silicone-3/4x1/8", "silicone-3/4x1/16", "tpe-3/4x1/16", "tpe-7/8x1/8", "tpe-1x1/8",
		"wool-medium", "acrylic-medium", "birch-14", "birch-16",
	)
}

// Of returns the catalogue with no cores, tubing, yarns and shafts but those.
func Of(ids ...string) (*knowledge.Catalogue, error) {
	cat, err := knowledge.Default()
	if err != nil {
		return nil, err
	}
	other := func(id string) bool { return !slices.Contains(ids, id) }
	cat.Cores = slices.DeleteFunc(cat.Cores, func(x knowledge.Core) bool { return other(x.ID) })
	cat.Tubing = slices.DeleteFunc(cat.Tubing, func(x knowledge.Tube) bool { return other(x.ID) })
	cat.Yarns = slices.DeleteFunc(cat.Yarns, func(x knowledge.Yarn) bool { return other(x.ID) })
	cat.Shafts = slices.DeleteFunc(cat.Shafts, func(x knowledge.Shaft) bool { return other(x.ID) })
	return cat, nil
}
