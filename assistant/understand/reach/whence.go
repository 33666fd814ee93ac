package reach

import "mallow/assistant/understand/cover"

// whence marks, by item, the words that say where parts came from and no more: rattan
// off some old knackered mallets, dowels from the hardware store. Nothing in them is
// lacked, wished for or a part.
func whence(c *cover.Chart) []bool {
	marks := make([]bool, len(c.Items))
	for i := 1; i < len(c.Items); i++ {
		if !c.Starts(i, "from", "off", "out") || c.Item(i).Qty != nil || c.Item(i).Any("holding", "bound") || !follows(c, i-1) {
			continue
		}
		told := false
		end := i + 1
		for end < len(c.Items) && whenceWord(c, end) {
			told = told || !c.Filler(end)
			end++
		}
		for told && c.Filler(end-1) {
			end--
		}
		for j := i; j < end && told; j++ {
			marks[j] = true
		}
	}
	return marks
}

// follows reports whether item i ends the description of a part.
func follows(c *cover.Chart, i int) bool {
	it := c.Item(i)
	return it.Any("kind", "material", "role", "form") || it.ID != "" || it.Qty != nil || Sticks(c, i) || c.Is(i, "ones", "left", "leftover", "remaining")
}

// whenceWord reports whether item i may stand among the words for where a part came
// from.
func whenceWord(c *cover.Chart, i int) bool {
	it := c.Item(i)
	if it.Mark == "-" {
		return true
	}
	if it.Mark != "" || it.Qty != nil || it.Note != nil || it.ID != "" || it.Has("join") != nil {
		return false
	}
	return c.Filler(i) || c.Unknown(i) || it.Any("held", "plain", "paint", "social") || it.Has("wish") != nil && !c.ClauseEnds(i+1) || c.Is(i, "mallet", "mallets", "old", "school", "shop", "store")
}

// exceptIn returns the item of segment s behind item i from which on there is what it
// names, though nothing else, or the end of s.
func (r *reader) exceptIn(i int, s segment) int {
	for i++; i < s.to; i++ {
		if r.Starts(i, "except", "besides", "bar", "apart", "save", "barring") && r.Item(i).Any("holding") {
			return i
		}
	}
	return s.to
}
