package guard

import (
	"mallow/assistant/understand/lexis"
	"mallow/rules/facts"
)

// OfOther reports whether what sense x of item i tells of practice or grip is
// said of somebody who has no part in the making: my flatmate builds loads, a
// professional band.
func (g Guard) OfOther(i int, x *lexis.Sense) bool {
	if x.Slot == facts.PlayerGrip && g.Says(i, "touch") && g.HasWord(g.From, i, "she", "he", "who", "will", "kids", "children", "i", "ill", "we", "you") {
		return true // she will never touch these
	}
	if x.Slot == facts.PlayerGrip || x.Slot == facts.PlayerMallets {
		for j := g.From; j < i; j++ {
			if g.Starts(j, "used") && g.Says(j, "to") || g.Is(j, "used") && g.Is(j+1, "to") {
				return true // used to do four
			}
		}
		return g.Starts(g.From, "she", "he", "shes", "hes", "my", "his", "her", "they") && g.byOther(i) && g.HasWord(i, len(g.Items), "i", "im", "mine", "me", "myself") &&
			g.HasWord(i, len(g.Items), "only", "just", "mine", "do", "play", "hold", "use", "own", "prefer", "myself") // she plays with four but I only do two
	}
	if x.Slot != facts.PlayerLevel || x.Value == "first" {
		return false
	}
	if g.Starts(i+1, "band", "bands", "orchestra", "orchestras", "ensemble", "ensembles", "player", "players", "musician", "musicians", "percussionist", "percussionists", "sound", "quality", "grade", "instrument", "hall", "venue", "gig", "gigs", "theatre") {
		return true // of those who play
	}
	if g.Starts(i-1, "by", "for", "from", "with") && g.Says(i, "pro", "professional", "expert", "veteran", "professionals", "experts", "pros") {
		return true // taught by a pro
	}
	if end := g.Item(i).To - 1; x.Value == "some" && g.At(end).Is("a") && !g.ClauseEnds(i+1) && !g.OfPart(i+1) && !g.Filler(i+1) && g.Item(i+1).Fact() == nil &&
		!g.Starts(i+1, "mallet", "mallets", "beater", "pair", "set", "few", "couple", "head", "bunch", "lot", "handful", "dozen", "batch", "bit", "good", "nice", "decent", "proper", "marimba", "vibraphone", "xylophone") {
		return true // made a girl faint
	}
	return g.byOther(i)
}

// byOther reports whether whoever stands nearest before item i in its clause is another
// than the speaker.
func (g Guard) byOther(i int) bool {
	for j := i; j >= g.From && j > i-7; j-- {
		switch {
		case g.Says(j, "i", "im", "ive", "id", "me", "myself", "we", "weve", "us", "both"):
			return false
		case (subject{g}).another(j):
			return true
		}
	}
	return false
}

// OfCount reports whether a word for a sound at item i stands before a figure and
// means about: lost count round 2011.
func (g Guard) OfCount(i int, x *lexis.Sense) bool {
	if x.Slot == facts.WantRegister && g.Says(i, "all") && g.Says(i, "over") && g.Item(i+1).Qty != nil {
		return true // all over thirty
	}
	return x.Slot == facts.WantColour && g.Is(i, "round") && g.Item(i+1).Qty != nil
}

// OfBody reports whether a word for a sound at item i is said of somebody's body: makes
// my mouth tingle.
func (g Guard) OfBody(i int, x *lexis.Sense) bool {
	return (x.Slot == facts.WantColour || x.Slot == facts.WantAttack) && g.HasWord(max(g.From, i-3), i, "mouth", "lips", "tongue", "throat", "eyes", "nose", "skin", "face", "arms", "ears")
}
