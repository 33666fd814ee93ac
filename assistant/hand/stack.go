package hand

import (
	"regexp"
	"strings"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/head"
	"mallow/rules/stock"
)

// wound is how many turns are said of a yarn: 120 turns of acrylic.
var wound = regexp.MustCompile(`(?i)(\d{1,3})\s*turns?(?:\s+of)?`)

// Stack reads a head whose parts are named as people name them, inside out and
// joined by +: 1 in acetal ball + 3/4x1/8 latex + 120 turns acrylic. A part may
// be written as the catalogue has it, too. Where a name fits several parts, the
// one that makers mean mostly is taken; the stack says which.
func Stack(cat *knowledge.Catalogue, r *understand.Reader, text string) (head.Stack, error) {
	if st, err := head.Parse(cat, text); err == nil || !strings.Contains(strings.TrimSpace(text), " ") {
		return st, err
	}
	var ids []string
	var items []stock.Item
	for _, piece := range strings.Split(text, "+") {
		piece = strings.TrimSpace(piece)
		if piece != "" && !strings.ContainsAny(piece, " ") { // as the catalogue writes it
			ids = append(ids, piece)
			continue
		}
		turns := ""
		if m := wound.FindStringSubmatch(piece); m != nil {
			turns, piece = "*"+m[1], strings.TrimSpace(wound.ReplaceAllString(piece, ""))
		}
		p, ok := onePart(cat, r, piece)
		if !ok {
			return head.Stack{}, fault.Errorf("no part is understood in %q; say, for example, '1 1/8 in plastic ball + 3/4x1/8 latex + 120 turns wool'", piece)
		}
		ranked, _ := stock.Likely(cat, p.IDs, items, false)
		ids = append(ids, ranked[0]+turns)
		items = append(items, stock.Item{Part: ranked[0], Amount: 1})
	}
	return head.Parse(cat, strings.Join(ids, " + "))
}

// onePart reads a piece of text as one part.
func onePart(cat *knowledge.Catalogue, r *understand.Reader, piece string) (reading.Part, bool) {
	in := r.Read(ByName(cat, piece), understand.Context{Asked: understand.AskParts})
	if len(in.Parts) != 1 || len(in.Parts[0].IDs) == 0 {
		return reading.Part{}, false
	}
	return in.Parts[0], true
}
