package cover

import (
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
)

// limits gives a bare number that is a limit the unit of another figure nearby:
// not below 20 and not above 26 mm; under 20 g is too light, nothing over 36.
func (c *Chart) limits() {
	for i := range c.Items {
		q := c.Item(i).Qty
		if q == nil || q.Dim != quantity.Plain || q.Frac || !c.limited(i) || c.Item(i+1).Any("role", "count", "topic", "kind", "form", "share") {
			continue
		}
		for far := 2; far < 16; far++ {
			for _, j := range []int{i + far, i - far} {
				if o := c.Item(j).Qty; o != nil && (o.Dim == quantity.Mass || o.Dim == quantity.Length) && q.Dim == quantity.Plain && c.limited(j) {
					c.share(i, j)
				}
			}
		}
	}
}

// limited reports whether a word for a limit stands before the figure at item i,
// or straight after it: not over the 38; 24 g up; heavier than 30.
func (c *Chart) limited(i int) bool {
	after := c.Item(i + 1)
	if after.Has("bound") != nil || after.Has("span") != nil && after.Has("span").Value == "up" {
		return true
	}
	j := i - 1
	for c.Filler(j) || c.Starts(j, "than") {
		j--
	}
	b := c.Item(j).Has("bound")
	return b != nil && b.Value != "about" || c.Item(j).Any("move", "wish") && c.Starts(j+1, "than")
}

// sharpLimits makes one limit of words such as "not a penny more": a denial, the
// smallest piece of something, and what goes past.
func (c *Chart) sharpLimits() {
	for i := range c.Items {
		if c.Item(i).Has("not") == nil && c.Item(i).Has("reply") == nil && !c.Starts(i, "no", "nor", "nae") {
			continue
		}
		j, small := i+1, false
		for ; j < i+6; j++ {
			if c.Starts(j, "a", "an", "one", "single", "even") && c.Item(j).Qty == nil && c.Item(j).To-c.Item(j).From == 1 {
				continue
			}
			if q := c.Item(j).Qty; q != nil && q.Value <= 1 || c.HasWord(j, j+1, "penny", "cent", "gram", "gramme", "g", "mm", "millimetre", "millimeter", "dollar", "pound", "euro", "hair", "dime", "buck", "quid", "rupee", "ounce", "bit", "notch", "jot", "farthing") {
				small = true
				continue
			}
			break
		}
		if !small || !c.HasWord(j, j+1, "more", "mor", "over", "past", "further", "above", "beyond", "extra", "dearer") && !(c.HasWord(j, j+1, "heavier", "bigger", "wider", "larger", "higher") && c.Starts(j+1, "than")) {
			continue
		}
		if c.Starts(j+1, "than") {
			j++
		}
		for k := i; k <= j; k++ {
			c.Drop(k)
		}
		c.Item(j).Senses = []*lexis.Sense{{Slot: "bound", Value: "most", Say: "at most"}}
	}
}
