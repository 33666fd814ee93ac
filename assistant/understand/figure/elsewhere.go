package figure

import (
	"mallow/assistant/understand/quantity"
)

// Elsewhere reports whether the figure at item i is told of something that was, is paid
// for, weighed or measured elsewhere, and says nothing of a head to come: dad paid
// twelve dollars for parking; the old ones came out at 28 g; she sings three octaves.
func Elsewhere(p Place, i int) bool {
	s := elsewhere{p}
	q := s.Item(i).Qty
	switch {
	case q == nil:
		return false
	case s.Says(i+1, "you") && s.HasWord(i+2, i+3, "show", "showed", "list", "listed", "propose", "proposed", "quote", "quoted"): // the 26 g you show
		return true
	case q.Dim == quantity.Octaves:
		return s.sung(i)
	case q.Dim == quantity.Money || s.ForPair(i):
		return s.perOther(i) || s.resold(i) || !s.hoped(i) && (s.paid(i) || s.costs(i) || s.ofOnes(i))
	case q.Dim == quantity.Mass || q.Dim == quantity.Length || q.Dim == quantity.Plain:
		return s.worn(i) || !s.hoped(i) && (s.was(i) || s.others(i))
	}
	return false
}

// elsewhere is a clause that may tell of what was or is elsewhere.
type elsewhere struct{ Place }

// hoped reports whether the clause of item i speaks of what is wished for, allowed or within
// reach, and not only of what is or was.
func (s elsewhere) hoped(i int) bool {
	to := i + 1
	for to < s.To && !s.Is(to, "so", "but", "and", "which", "because") {
		to++
	}
	return s.HasWord(s.From, to, "want", "should", "must", "need", "needs", "please", "can", "could", "may", "mustnt", "shouldnt",
		"max", "maximum", "most", "least", "limit", "under", "below", "budget", "afford", "spend", "spending", "hoping", "hoped", "wish", "wished",
		"mind", "thinking", "thought", "meant", "idea", "id", "ill", "wed", "lets", "make", "if", "aim", "target", "cant", "wont", "wouldnt", "would", "asked",
		"stick", "keep", "than", "left", "remains", "grant", "allowance", "told", "again")
}

// paid reports whether the sum at item i was paid, asked or earned for something: she
// charged us forty; ten is what the tube set me back; we lost fifty on it.
func (s elsewhere) paid(i int) bool {
	if s.HasWord(i+1, min(i+8, s.To), "charged", "paid") || s.HasWord(i+1, min(i+12, s.To), "back") && s.HasWord(i+1, s.To, "set", "sets") {
		return true
	}
	for j := i - 1; j >= s.From && j > i-9; j-- {
		switch {
		case s.Says(j, "charged", "charge", "charges", "paid", "quoted", "fetched", "bought", "sold", "lost", "owed", "owes", "won", "tipped", "lent"):
			return true
		case s.Says(j, "wanted", "asks") && !s.Says(j-1, "i", "we"):
			return true
		case s.Says(j, "back") && s.HasWord(s.From, j, "set"):
			return true
		}
	}
	return s.HasWord(i+1, min(i+10, len(s.Items)), "robbery", "rip", "ripoff", "drank", "blew")
}

// costs reports whether the sum at item i is told to be the price of a thing that is no
// mallet: the bus pass cost 20 dollars, the tickets were 8 quid, wool is 6 a ball.
func (s elsewhere) costs(i int) bool {
	for j := i - 1; j > s.From && j > i-5; j-- {
		if !s.Says(j, "cost", "costs", "were", "was", "is", "are") {
			continue
		}
		thing := false
		for k := s.From; k < j; k++ {
			thing = thing || s.Unknown(k) && s.Item(k).Has("filler") == nil || s.Item(k).Any("kind", "material", "form") || s.Says(k, "ones")
		}
		return thing && !s.HasWord(s.From, j, "pair", "pairs", "mallet", "mallets", "head", "heads", "set", "price", "all", "total", "everything", "lot", "money", "cash", "funds",
			"purse", "wallet", "kitty", "pot", "pocket", "savings", "account", "bank", "fund", "ceiling", "cap", "top", "what", "whats", "that", "thats", "this", "i", "we", "my", "our", "line", "figure", "sum", "number", "roof")
	}
	return false
}

// perOther reports whether the sum at item i is a price per something that no budget is
// counted by: 30 a month, four dollars a foot, 6 a ball.
func (s elsewhere) perOther(i int) bool {
	j := i + 1
	for s.Is(j, "a", "an", "per", "the", "each", "/", "for") || s.Item(j).Mark == "/" {
		j++
	}
	if j == i+1 && !s.Starts(j, "a", "an", "per") {
		return false
	}
	return s.HasWord(j, j+1, "month", "week", "day", "hour", "lesson", "session", "foot", "metre", "meter", "yard", "inch", "skein", "hank", "reel", "spool",
		"kilo", "pound", "litre", "bottle", "tube", "ticket", "night", "pint", "cup", "slice", "bag", "length")
}

// resold reports whether the sum at item i is what mallets are to bring in: I could flog
// them at 40 a pair.
func (s elsewhere) resold(i int) bool {
	return s.HasWord(s.From, i, "flog", "flogging", "resell", "reselling", "sell", "selling", "auction", "hawk") && s.HasWord(s.From, i, "i", "we", "im", "were", "to", "them")
}

// was reports whether the figure at item i is what something came to: the old ones came
// out at 28 g; mine had been 40 mm.
func (s elsewhere) was(i int) bool {
	for j := i - 1; j >= s.From && j > i-7; j-- {
		switch {
		case s.Says(j, "was", "were", "weighed", "measured", "read", "been"), s.Says(j, "came", "ran") && s.HasWord(j, min(j+3, i), "at", "to", "in", "out"):
			return s.HasWord(s.From, j, "old", "last", "previous", "bought", "borrowed", "ones", "first", "original", "originals", "other", "mallets", "hers", "theirs", "his", "her", "husband", "wife", "teacher", "tag", "label", "had")
		}
	}
	return false
}

// others reports whether the figure at item i is what somebody else holds by, or what a
// thing weighs that is more than a head: he swears by 36 g; stick and all it comes to 60 g.
func (s elsewhere) others(i int) bool {
	for j := i - 1; j >= s.From && j > i-5; j-- {
		if s.Says(j, "swears", "swear", "swore") && s.HasWord(j, i, "by") {
			return true
		}
	}
	return s.HasWord(s.From, i, "stick", "shaft", "handle") && s.HasWord(s.From, i, "all") && s.HasWord(s.From, i, "and", "comes", "weighs", "is")
}

// worn reports whether the size at item i is one of clothes: my shoes are size 9.
func (s elsewhere) worn(i int) bool {
	return s.Item(i).Qty.Dim == quantity.Plain && s.HasWord(s.From, s.To, "shoe", "shoes", "boot", "boots", "feet", "foot", "glove", "gloves", "hat", "dress", "trainers", "slippers", "socks", "waist", "collar", "needles", "hook")
}

// ofOnes reports whether the sum at item i is the price of heads that were: the seven
// dollar ones from the catalogue fell to bits.
func (s elsewhere) ofOnes(i int) bool {
	return s.Starts(i+1, "ones", "mallets", "sticks", "beaters") && s.HasWord(i+1, s.To, "were", "was", "fell", "broke", "lasted", "came", "felt", "sounded", "wore", "went", "cracked", "split")
}

// sung reports whether the octaves at item i are of a voice, a hand or a tune: she sings
// over three octaves; I can only reach one on the piano.
func (s elsewhere) sung(i int) bool {
	return s.HasWord(s.From, s.To, "sing", "sings", "sang", "voice", "voices", "soprano", "tenor", "singer", "whistle", "whistles", "shower", "piano", "pianos", "organ", "harp", "guitar", "flute", "clarinet", "cello", "violin", "synth",
		"reach", "reaches", "transpose", "transposed", "scale", "scales", "arpeggio", "arpeggios", "leap", "leaps", "jump", "jumps", "stretch", "apart", "cost", "costs")
}

// Once reports whether the clause tells of people or mallets that were there in former
// days: I once taught a class of thirty; I had four mallets once.
func Once(s Place) bool {
	return s.HasWord(s.From, s.To, "once", "formerly", "retired") && s.HasWord(s.From, s.To, "taught", "had", "ran", "led", "was", "were", "held", "played", "owned", "conducted") ||
		s.HasWord(s.From, s.To, "back") && s.HasWord(s.From, s.To, "days", "when", "was", "were") && s.HasWord(s.From, s.To, "in")
}
