package harm_test

import (
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand/harm"
)

// weighed is what a line says, as said returns it, with "ask minor" for what it
// only touches on.
func weighed(r *harm.Reader, text, asked string) []string {
	var out []string
	for _, f := range r.Read(text, asked) {
		s := shorts()[f.Path]
		switch {
		case f.Faint || f.Doubt && (f.Path == harm.Supervised || f.Path == harm.Ventilated) || f.TakesBack:
			s = "ask " + s
		case !f.Value:
			s = "!" + s
		}
		out = append(out, s)
	}
	return out
}

// TestWeight holds how strong the evidence for a fact has to be: who makes,
// holds, plays or stands by is taken; who is mentioned in passing is asked about
// at most; what is no sign at all takes nothing. Behind => stands what has to be
// read, parted by blanks where it is more; (…) may be read beside it, ! before
// a word is no.
func TestWeight(t *testing.T) {
	r := newReader(t)
	for kind, lines := range weights() {
		for _, line := range lines {
			asked, rest, ok := strings.Cut(line, " | ")
			if !ok {
				asked, rest = "", line
			}
			text, want, _ := strings.Cut(rest, " => ")
			want, may, _ := strings.Cut(want, " (")
			got := weighed(r, text, asked)
			allowed := strings.Split(strings.TrimSuffix(may, ")"), ", ")
			for _, w := range strings.Split(want, ", ") {
				if w != "-" && !slices.Contains(got, w) {
					t.Errorf("%s: %q, asked %q: read %q, want %q", kind, text, asked, got, w)
				}
				allowed = append(allowed, w)
			}
			for _, g := range got {
				if !slices.Contains(allowed, g) && !(slices.Contains(allowed, "ask") && strings.HasPrefix(g, "ask ")) {
					t.Errorf("%s: %q, asked %q: read %q, which it doesn't say", kind, text, asked, g)
				}
			}
		}
	}
}

func weights() map[string][]string {
	return map[string][]string{
		"children in passing": {
			"next door's kids are out in the yard again, sorry if I'm slow => - (ask)",
			"the neighbours' children run about overhead all day => - (ask)",
			"I can only type while the kids are at football => - (ask)",
			"my daughter set up this laptop for me => - (ask)",
			"my nephew recommended this program => - (ask)",
			"my son laughs at my mallets => - (ask)",
			"the yarn is left over from a cardigan for my granddaughter => - (ask)",
			"I paint the shafts the colour of my niece's bicycle => - (ask)",
			"I must not wake the baby => - (ask, !solvent)",
			"quiet enough that the twins stay asleep => - (ask)",
			"the children have grown up and moved to Leeds => - (ask, !minor)",
			"I started again once my kids had left for university => - (ask, !minor)",
			"a boy on the bus asked what I was carrying => - (ask)",
			"it keeps me young, my girl says => - (ask)",
			"louder than a playground full of children => - (ask)",
			"the kids from upstairs complain about the noise => - (ask)",
			"I drive my grandson to swimming in ten minutes => - (ask)",
			"my teenager is on the phone so the line is slow => - (ask)",
			"that's a sound only a toddler could love => - (ask)",
			"the shed used to be the children's den => - (ask)",
			"my lad's football boots are on the bench, one moment => - (ask)",
			"I named the marimba after my daughter => - (ask)",
		},
		"children who take part": {
			"my daughter will wind them => minor",
			"the kids make them on Saturdays => minor",
			"for my nephew => minor",
			"my grandson plays the low marimba part => minor",
			"two children and me at the bench => minor (ask, adult by)",
			"our youngsters lose them all the time => minor",
			"a boy in the band broke his => minor",
			"these go to the girls in my section => minor",
			"my niece wants darker ones => minor",
			"the kid's mallets are worn out => minor",
			"I teach children => minor",
			"with my stepson, on the kitchen table => minor (ask, adult by)",
			"the twins share one pair => minor",
			"the lads in the drumline want them harder => minor",
			"my son is helping => minor (ask, adult by)",
			"her little boy uses the glue => minor (ask)",
			"half of the players are schoolchildren => minor",
			"a class of pupils builds them => minor",
			"my neighbour's daughter plays with us => minor (adult by, ask)",
			"I make them, the children of the choir hit things with them => ask minor",
			"mostly kids => minor",
		},
		"no allergy at all": {
			"I'm allergic to muddy attacks => -",
			"allergic to paying for brand names => - (ask)",
			"our conductor is allergic to anything loud => - (ask)",
			"I have an allergy to fuss => -",
			"she's allergic to early mornings => -",
			"I break out in a sweat at that tempo => - (ask)",
			"that roll gives me goose bumps => -",
			"this piece is a headache => -",
			"my wallet is allergic to that => - (ask)",
			"I'm sick of brittle sounds => -",
			"itching to get started => -",
			"a rash promise, but I said I'd have them by Friday => -",
			"his solo left the audience gasping => - (ask)",
			"so mellow the back row falls asleep => -",
			"loud enough to give the front row asthma => -",
			"fast passages leave me out of breath => - (ask)",
			"I get hot and bothered over sixteenth notes => - (ask)",
			"my ears hurt from the bright ones => - (ask)",
			"the glue on the old ones has gone bad => - (ask)",
			"kid gloves, that's how soft => -",
			"it fits like a glove => -",
			"the balloon has gone up, concert's tomorrow => - (ask)",
		},
		"allergies of those who are there": {
			"I'm allergic to latex => !latex",
			"latex gives our pianist hives => !latex",
			"one of the four has a latex allergy => !latex",
			"my hands blister from rubber gloves => !latex, !rubber (ask)",
			"the drummer can't touch latex => !latex",
			"party balloons make my lips swell => !latex",
			"doctor says no latex for my wife, she winds them => !latex",
			"I come up in welts under a swim cap => !latex (!rubber, ask)",
			"somebody in the group reacts to natural rubber => !latex (!rubber)",
			"Allergic: latex. => !latex",
			"latex allergy in the family => !latex",
			"he carries an epipen for latex => !latex",
			"everyone is fine with latex bar Jo => !latex",
			"no latex, my student swells up => !latex (ask)",
			"my skin hates latex => !latex",
			"latex makes Anna's hands itch and she plays with these => !latex",
			"rubber bands leave red marks on my wrists => !latex, !rubber",
			"I can't have any rubber near me, neither natural nor synthetic => !latex, !rubber",
			"she can't have rubber of any kind on her skin => !latex, !rubber",
			"we cannot have rubber in the house => !latex, !rubber",
			"no rubber please, natural or synthetic => !latex, !rubber",
			"rubber, natural or man-made, is a no-go for me => !latex, !rubber",
			"no natural rubber, synthetic is fine => !latex",
			"natural rubber makes me itch but synthetic rubber is fine => !latex",
			"rubber, natural or synthetic, is no problem => -",
			"we can't have rubber in the head => -",
			"nobody in the house may touch rubber => !latex, !rubber",
			"no one in the family can touch latex => !latex",
			"none of the players should handle rubber => !latex, !rubber",
			"no one in the band nor me has any latex allergy => latex",
			"nobody minded that the head is of rubber => -",
			"half the turns, a marimba, no allergies => latex",
			"it's me who can't have latex => !latex",
			"our bass player is the one with the latex thing, he can't be near it => !latex",
			"I'm sensitive to latex, only mildly => !latex",
		},
		"lungs of those who aren't there": {
			"my brother in Canada has asthma, he isn't involved => - (ask)",
			"the old caretaker had emphysema, poor man => - (ask)",
			"my friend's asthma keeps him out of it, it's only me here, I'm 60 => !minor (ask, !solvent)",
			"my late husband had bad lungs => - (ask)",
			"my grandmother was asthmatic => - (ask)",
			"I was asthmatic as a child => - (ask)",
			"had bronchitis last winter, all gone => - (ask)",
			"when I was pregnant I sold my marimba => - (ask)",
			"my mother smoked and wheezed all through my lessons => - (ask)",
			"I had pneumonia years ago, right as rain now => - (ask)",
			"the dog next door wheezes => - (ask)",
			"the hero of the opera dies of consumption, gasping => - (ask)",
			"my sister is expecting, she lives in Chile and has nothing to do with this => - (ask)",
			"used to be asthmatic => - (ask)",
			"we once had a player with asthma, he left in 2010 => - (ask)",
		},
		"lungs of those who are": {
			"I have asthma => !solvent",
			"my wife is pregnant => !solvent",
			"one of us uses an inhaler => !solvent",
			"the kid at the next bench is asthmatic => !solvent (minor, ask)",
			"our second player has COPD => !solvent",
			"I've had asthma since I was a boy => !solvent (ask)",
			"still asthmatic at 50 => !solvent (!minor)",
			"asthma, both of us => !solvent",
			"solvents make me wheeze => !solvent",
			"my chest is bad, no strong glue => !solvent",
			"we have a newborn in the flat => !solvent (ask)",
			"she's due in May and helps me glue => !solvent (adult by, ask)",
			"the neighbour who shares the workshop has asthma => !solvent (ask)",
			"I get giddy from contact cement => !solvent",
			"expecting our first => !solvent",
		},
		"once, and not now": {
			"he had eczema as a baby => - (ask)",
			"I was allergic to strawberries as a boy => - (ask)",
			"as a child I reacted to plasters, never since => - (ask, !latex, !rubber)",
			"made my first pair at school, decades ago => - (ask)",
			"we built xylophones in my school days => - (ask)",
			"I played in the school band back then => - (ask)",
			"my school had a marimba when I was there in the seventies => - (ask)",
			"when I was nine I got a glockenspiel => - (ask)",
			"I've been playing since second grade => - (ask)",
			"picked it up in high school, thirty years ago => - (ask)",
			"my dad showed me how when I was ten => - (ask)",
			"used to teach kids, stopped last year => - (ask)",
			"I had a pupil once who reacted to latex => - (ask)",
			"same size as I had at fifteen => - (ask)",
			"my first teacher made me practise at seven in the morning => - (ask)",
		},
		"of age, told sideways": {
			"I took it up at forty => !minor",
			"at seventy-one I'm still learning => !minor",
			"I turned 30 last week => !minor",
			"(me, 66) => !minor",
			"I draw my pension => !minor",
			"I'm a grandmother => !minor (ask)",
			"you have to be 18 to join our band => !minor",
			"the minimum age here is 18 => !minor",
			"I'm over forty => !minor",
			"we're all over 21 => !minor",
			"I started at fifty-five => !minor",
			"player.minor | tengo 34 => !minor",
			"player.minor | yes, I am an adult => !minor",
			"player.minor | just me, 45 => !minor",
			"player.minor | no, youngest is 19 => !minor",
			"I'm a retired nurse => !minor",
			"retired, with time on my hands => !minor",
			"I am 51 and I make them alone at home => !minor",
			"my wife and I are both in our sixties => !minor",
			"I'll be 80 in June => !minor",
			"everyone in the group is grown up => !minor",
		},
		"under age, told sideways": {
			"I turned 13 last week => minor",
			"(me, 14) => minor",
			"player.minor | tengo 15 => minor",
			"player.minor | yes, I'm an adult but my son joins in => minor (ask, adult by)",
			"player.minor | yes, one is 17 => minor",
			"I'll be 16 in June => minor",
			"you have to be 11 to join our band => ask minor (minor)",
			"I'm in primary 6 => minor",
			"the oldest of us is 15 => minor",
			"still at school, doing my exams in May => ask minor (minor)",
			"I'm fourteen => minor",
			"I started at seven and now I'm 12 => minor",
			"half of us are under 18 => minor (ask)",
			"my eighteenth is next year => minor (ask)",
			"not 18 yet => minor",
		},
		"others who are of age": {
			"bought it from a retired teacher => - (ask)",
			"a retired bandsman gave me his old vibraphone => - (ask)",
			"the instructions are by some old man => - (ask)",
			"an adult education centre lends us the marimba => - (ask, !minor)",
			"my uncle, a pensioner, sold me the bars => - (ask)",
			"got the tubing off a veteran in the next street => - (ask)",
			"my granddad is 80 => - (ask)",
			"my teacher is 45 => - (ask)",
			"the marimba was built by a man in his fifties => - (ask)",
			"I borrow it from a pensioners' choir => - (ask)",
		},
		"asked after, not told": {
			"bench.supervised | why do you ask whether my mum is in => - (ask)",
			"bench.supervised | does it matter if dad is here => - (ask)",
			"bench.supervised | what if my mum is only upstairs => - (ask, minor, !adult by, !solvent)",
			"bench.supervised | do I really need an adult => - (ask, minor)",
			"bench.supervised | why does a grown-up have to be there => - (ask, minor)",
			"bench.supervised | would my big sister count => - (ask, minor)",
			"player.latex_ok | why do you ask about latex => - (ask)",
			"player.latex_ok | what is latex => - (ask)",
			"player.latex_ok | what's wrong with latex => - (ask, !latex)",
			"player.minor | why do you want to know how old we are => - (ask)",
			"player.solvent_ok | what does solvent mean => - (ask)",
			"is EPDM latex-free => - (ask)",
			"does the tubing have latex in it => - (ask)",
			"can latex give people a rash => - (ask)",
			"does silicone bother people who can't have latex => - (ask)",
		},
		"asked and answered": {
			"allergies? none => latex (ask)",
			"rubber allergy? no, none of us => latex (rubber, ask)",
			"any asthma - nope => solvent (ask)",
			"latex? fine => latex",
			"latex? no trouble => latex",
			"anyone allergic? not one => latex (ask)",
			"allergies, nobody here has any => latex (ask)",
			"latex allergy? nobody => latex",
			"asthma? no one here => solvent (ask)",
			"allergic to latex? me, yes => !latex",
			"latex? can't, sorry => !latex",
			"latex allergy? yes, one of us => !latex",
			"allergies? only my wife => - (ask, !latex)",
			"anyone allergic? Tom is => - (ask, !latex)",
			"latex? no thanks => !latex",
			"asthma? yes => !solvent",
		},
		"groups": {
			"all adults, no allergies => !minor, latex (ask)",
			"six of us, all grown up, nobody minds latex => !minor, latex",
			"everyone is over 18 except my nephew => - (minor, ask)",
			"all adults but one => - (minor, ask)",
			"we're adults, only Ben is 16 => minor",
			"everyone fine with latex apart from our tenor => !latex",
			"nobody is allergic except one who can't touch latex => !latex",
			"all of us can handle rubber => - (rubber, latex)",
			"twelve people, none of them under 30 => !minor",
			"some are adults, some are teenagers => minor",
			"a mixed group, 12 to 60 => minor (ask)",
			"adults mostly => - (ask, minor)",
			"no kids, no allergies => !minor, latex (ask)",
			"no children among us => !minor",
			"all fine except one => - (ask, !latex)",
		},
		"alone": {
			"I'm 45 and work alone => !minor",
			"I live alone, 70 years old => !minor",
			"I make the heads by myself, the pupils only play => ask minor (ask)",
			"I'm 12 and nobody is home => minor, !adult by (!solvent)",
			"my son, 14, does it on his own => minor, !adult by (!solvent)",
			"alone at last with my vibraphone => - (ask)",
			"the marimba alone plays the tune => -",
			"just me and my mallets => - (ask)",
			"the kids are left to it => minor, !adult by (!solvent)",
			"home alone, 13 => minor, !adult by (!solvent)",
		},
		"by, and not by": {
			"my uncle's soft ones sound dull next to me => - (ask)",
			"mum watches telly while I practise => - (ask)",
			"I play with my dad in a band => - (ask)",
			"the director wants them brighter, he stands next to the vibes => - (ask)",
			"my teacher is around on Mondays => - (ask)",
			"music teacher here, making some for the kids => minor",
			"my dad sits next to me => adult by (ask)",
			"mum is watching me the whole time => adult by (ask)",
			"my teacher helps me cut => adult by (ask)",
			"bench.supervised | I'll be at her elbow => adult by",
			"bench.supervised | they won't be left alone => adult by",
			"bench.supervised | I'd be in the room of course => adult by",
			"bench.supervised | no drills please => -",
			"bench.supervised | no need, I'm 40 => !minor",
			"bench.supervised | nobody => !adult by",
			"bench.supervised | no, mum's out => !adult by (!solvent, ask)",
		},
		"plain all-clears and none": {
			"nope no allergies => latex",
			"no kids no allergies => !minor, latex",
			"vibes, adult no allergies, medium => !minor, latex",
			"player.latex_ok | we're all good on that front => latex",
			"player.latex_ok | im not alergic 2 anything xcept cats => latex",
			"player.latex_ok | yes let's build => -",
			"player.latex_ok | ok build it => -",
			"player.latex_ok | no idea about glue => -",
			"player.latex_ok | yes => !latex",
			"player.latex_ok | no idea => !latex",
			"player.latex_ok | yes, I'll sit with them => adult by",
			"player.rubber_ok | any rubber at all, even erasers => !rubber (!latex)",
			"bench.ventilated | window yes => air",
			"bench.ventilated | the window doesn't open => !air",
		},
		"numbers that are no ages": {
			"harder for the upper two => -",
			"the lower four are muddy => -",
			"upper 3 octaves => -",
			"seven years of piano => - (ask)",
			"grade 8 on piano => - (ask, minor)",
			"between bar 12 and bar 17 => -",
			"I'm at 15 grams now => -",
			"she paid 12 for them => -",
			"my marimba is 16 => -",
			"we are 12 => - (ask, minor)",
			"they're 13 inches long => -",
			"rehearsal is at 5 => -",
			"I have 14 => - (ask)",
		},
	}
}
