package change

import (
	"context"
	"errors"
	"slices"

	"mallow/knowledge/head"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// FromStock is Find with what is on hand: a change that it serves, with the
// parts of the head itself, goes before any that something has to be bought
// for. Without a bin it is Find.
func FromStock(ctx context.Context, f *propose.Finder, from head.Stack, aim Aim, q propose.Request, others int) (Change, error) {
	if q.Bin == nil {
		return Find(ctx, f, from, aim, q, others)
	}
	have := q.Bin
	own := slices.Clone(have.Items)
	for _, id := range from.Parts() {
		own = append(own, stock.Item{Part: id, Amount: stock.Enough()})
	}
	q.Bin = &stock.Bin{Items: own}
	c, err := Find(ctx, f, from, aim, q, others)
	if clash := (*propose.Clash)(nil); err == nil || !errors.As(err, &clash) {
		return c, err
	}
	q.Bin = have.Whole(f.Catalogue())
	return Find(ctx, f, from, aim, q, others)
}
