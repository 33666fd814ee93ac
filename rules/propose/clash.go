package propose

import (
	"context"
	"fmt"
)

// Clash is the error of a request that nothing buildable meets.
type Clash struct {
	Wishes []string // the fewest wishes that can't be met together
}

func (c *Clash) Error() string { return fmt.Sprintf("propose: nothing can be built with %v", c.Wishes) }

func (f *Finder) clash(ctx context.Context, q Request) error { return &Clash{} }
