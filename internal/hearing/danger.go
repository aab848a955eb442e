package hearing

import (
	_ "embed"
	"slices"
	"strings"

	"shopfloat/internal/guides"
)

// The dangers, each with its own card.
const (
	Robbery = "robbery" // a threat, a weapon or violence now
	Fire    = "fire"    // fire, smoke, gas or something that explodes
	Hurt    = "hurt"    // somebody is hurt, or got a shock
	Caller  = "caller"  // somebody wants a code, a payout or a way in
)

//go:embed data/danger.txt
var dangerFile string

//go:embed data/signs.txt
var signsFile string

// proof is what together is a danger. What a clause says of the past, of what
// might be, or of what is not real, speaks against all of them.
type proof struct {
	danger string
	all    []string // kinds of words that must stand in one clause
	not    []string // kinds that speak against it
	most   int      // words of the clause; 0 for any number
}

// proofs are tried in order; the first that holds decides. A file of words of
// another language needs no grammar: each is a danger by itself.
var proofs = []proof{
	{danger: Robbery, all: []string{"gun"}},
	{danger: Robbery, all: []string{"robbery"}},
	{danger: Robbery, all: []string{"threat"}, not: []string{"complain"}},
	{danger: Robbery, all: []string{"masked"}},
	{danger: Caller, all: []string{"fake"}},
	{danger: Caller, all: []string{"barecode"}, not: []string{"nocaller"}, most: 12},
	{danger: Caller, all: []string{"contact", "asking", "secret"}, not: []string{"nocaller"}},
	{danger: Caller, all: []string{"pronoun", "asking", "secret"}, not: []string{"nocaller"}},
	{danger: Caller, all: []string{"contact", "asking", "payout"}, not: []string{"nocaller"}},
	{danger: Caller, all: []string{"contact", "remote"}, not: []string{"nocaller"}},
	{danger: Robbery, all: []string{"demand"}, not: []string{"complain"}},
	{danger: Robbery, all: []string{"breaking"}},
	{danger: Hurt, all: []string{"hurt", "self"}, not: []string{"nohurt"}},
	{danger: Robbery, all: []string{"blade", "somebody"}},
	{danger: Robbery, all: []string{"alone"}, most: 3},
	{danger: Robbery, all: []string{"holdup"}},
	{danger: Fire, all: []string{"fire"}, not: []string{"unfire"}},
	{danger: Fire, all: []string{"smoking"}, not: []string{"somebody"}},
	{danger: Hurt, all: []string{"hurt"}, not: []string{"nohurt"}},
	{danger: Hurt, all: []string{"shock"}, not: []string{"noshock"}},
	{danger: Robbery, all: []string{"blow", "somebody"}},
}

// guard finds dangers. It learns nothing and mends nothing.
type guard struct {
	lx    *lexicon
	signs *lexicon // words that go with dangers, and prove none
}

func newGuard() (*guard, error) {
	lx, err := readLexicon(dangerFile, wordsOf)
	if err != nil {
		return nil, err
	}
	signs, err := readLexicon(signsFile, wordsOf)
	if err != nil {
		return nil, err
	}
	return &guard{lx: lx, signs: signs}, nil
}

// danger gives the present danger that a text speaks of, "" for none. names are
// those of people: somebody called Gun is none, unless an article says otherwise.
//
// Where a name is given, words of other languages are names: Messer, Bomba.
func (g *guard) danger(text string, names []string, naming bool) string {
	for _, c := range clausesOf(text) {
		if d := g.clause(c, names, naming); d != "" {
			return d
		}
	}
	return ""
}

// past reports whether a text speaks of a robbery or a theft that is over.
func (g *guard) past(text string, names []string) bool {
	for _, c := range clausesOf(text) {
		spans := g.lx.find(nameless(c.words, names))
		if has(spans, "gone") && (has(spans, "robbery") || slices.ContainsFunc(c.words, stolen)) {
			return true
		}
	}
	return false
}

func stolen(w string) bool { return w == "stolen" || w == "stole" || w == "theft" || w == "burgled" }

// machineRobs reports whether what is said to rob somebody is the machine.
func (g *guard) machineRobs(text string, names []string) bool {
	return slices.ContainsFunc(clausesOf(text), func(c clause) bool {
		words := nameless(c.words, names)
		spans := g.lx.find(words)
		return slices.ContainsFunc(spans, func(s span) bool { return byMachine(s, spans, words) })
	})
}

// foreign gives the danger that a word of another language means.
func (g *guard) foreign(text string, names []string) string {
	for _, c := range clausesOf(text) {
		for _, s := range g.lx.find(nameless(c.words, names)) {
			if _, danger, ok := strings.Cut(s.kind, " "); ok {
				return danger
			}
		}
	}
	return ""
}

func (g *guard) clause(c clause, names []string, naming bool) string {
	bare := unpolite(nameless(c.words, names))
	if against(bare, g.lx.find(bare)) {
		return ""
	}
	words := nameless(c.words, names) // "no respira" begins with no courtesy
	spans := g.lx.find(words)
	spans = slices.DeleteFunc(spans, func(s span) bool {
		return excused(s, spans) || byMachine(s, spans, words) || ofPlace(s, spans)
	})
	if guides.Injury(c.text) {
		spans = append(spans, span{kind: "hurt"})
	}
	if slices.ContainsFunc(words, reflexive) {
		spans = append(spans, span{kind: "self"})
	}
	if joined := strings.Join(words, " "); joined == "hold up" || joined == "stick up" ||
		joined == "attack" {
		spans = append(spans, span{kind: "holdup"})
	}
	for _, s := range spans {
		if _, danger, ok := strings.Cut(s.kind, " "); ok && !naming {
			return danger // a word of another language
		}
	}
	for _, p := range proofs {
		if p.holds(spans, len(bare)) {
			return p.danger
		}
	}
	return ""
}

func (p proof) holds(spans []span, words int) bool {
	return (p.most == 0 || words <= p.most) &&
		!slices.ContainsFunc(p.not, func(kind string) bool { return has(spans, kind) }) &&
		!slices.ContainsFunc(p.all, func(kind string) bool { return !has(spans, kind) })
}

// nameless leaves out the names of people, as far as none has an article.
func nameless(words, names []string) []string {
	out := make([]string, 0, len(words))
	for i, w := range words {
		named := slices.ContainsFunc(names, func(n string) bool { return slices.Contains(wordsOf(n), w) })
		if named && (i == 0 || !slices.Contains([]string{"a", "the", "with", "his", "an"}, words[i-1])) {
			continue
		}
		out = append(out, w)
	}
	return out
}

// supposedWithin is how far from the beginning of a clause words make it a
// question of what might be: "what do i do if ...".
const supposedWithin = 5

// against reports whether a clause speaks of the past, of what might be, or of
// what is not real. What is said to be so now is none of these.
func against(words []string, spans []span) bool {
	present := has(spans, "now")
	for _, s := range spans {
		switch s.kind {
		case "gone":
			if !present {
				return true
			}
		case "supposing":
			asksPast := words[s.from] == "was" || words[s.from] == "were" || words[s.from] == "did" ||
				words[s.from] == "has" || words[s.from] == "have" || words[s.from] == "is"
			if s.from == 0 || !asksPast && s.from <= supposedWithin {
				return true
			}
		case "unreal":
			if s.from == 0 || !slices.Contains([]string{"no", "not"}, words[s.from-1]) &&
				(s.from == 1 || words[s.from-2] != "not") {
				return true
			}
		}
	}
	return false
}

// excused reports whether a word of fire is part of something harmless.
func excused(s span, spans []span) bool {
	if s.kind != "fire" && s.kind != "smoking" && s.kind != "gun" {
		return false
	}
	return slices.ContainsFunc(spans, func(o span) bool {
		return o.kind == "nofire" && o.from <= s.from && s.to <= o.to
	})
}

// ofPlace reports whether a danger's word only names a place: Shotgun Street.
func ofPlace(s span, spans []span) bool {
	return s.to-s.from == 1 && slices.Contains([]string{"gun", "blade", "alone", "robbery", "fire"}, s.kind) &&
		slices.ContainsFunc(spans, func(o span) bool { return o.kind == "place" && o.from == s.to })
}

// byMachine reports whether it is the machine that robs: "it robbed me".
func byMachine(s span, spans []span, words []string) bool {
	robs := strings.HasPrefix(words[s.from], "rob") && words[s.from] != "robber" && words[s.from] != "robbery"
	if s.kind != "robbery" || !robs && words[s.from] != "mugged" {
		return false
	}
	return slices.ContainsFunc(spans, func(o span) bool {
		if o.kind != "machine" {
			return false
		}
		before := o.to <= s.from && s.from-o.to <= 2
		passive := before && slices.ContainsFunc(words[o.to:s.from], isBe)
		after := o.from > s.from && o.from-s.from <= 3 && slices.Contains(words[s.from:o.from], "by")
		return before && !passive || after
	})
}

func reflexive(w string) bool { return strings.HasSuffix(w, "self") || w == "themselves" }

func isBe(w string) bool {
	return slices.Contains([]string{"is", "are", "was", "were", "been", "being", "be", "got", "gets",
		"getting"}, w)
}

// over reports whether a text says that a danger has passed, and whether there
// was none.
func (g *guard) over(text string) (over, never bool) {
	for _, c := range clausesOf(text) {
		spans := g.lx.find(c.words)
		over = over || len(c.words) == 1 && slices.Contains([]string{"over", "safe", "finished"}, c.words[0])
		over = over || has(spans, "over")
		never = never || has(spans, "false")
	}
	return over || never, never
}
