package hearing

import (
	_ "embed"
	"slices"
	"strings"

	"shopfloat/internal/guides"
	"shopfloat/internal/wording"
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
	lx    *wording.Lexicon
	signs *wording.Lexicon // words that go with dangers, and prove none
}

func newGuard() (*guard, error) {
	lx, err := wording.ReadLexicon(dangerFile, wording.Of)
	if err != nil {
		return nil, err
	}
	signs, err := wording.ReadLexicon(signsFile, wording.Of)
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
	for _, c := range wording.Clauses(text) {
		if d := g.clause(c, names, naming); d != "" {
			return d
		}
	}
	return ""
}

// past reports whether a text speaks of a robbery or a theft that is over.
func (g *guard) past(text string, names []string) bool {
	for _, c := range wording.Clauses(text) {
		spans := g.lx.Find(nameless(c.Words, names))
		if wording.Has(spans, "gone") && (wording.Has(spans, "robbery") || slices.ContainsFunc(c.Words, stolen)) {
			return true
		}
	}
	return false
}

func stolen(w string) bool { return w == "stolen" || w == "stole" || w == "theft" || w == "burgled" }

// machineRobs reports whether what is said to rob somebody is the machine.
func (g *guard) machineRobs(text string, names []string) bool {
	return slices.ContainsFunc(wording.Clauses(text), func(c wording.Clause) bool {
		words := nameless(c.Words, names)
		spans := g.lx.Find(words)
		return slices.ContainsFunc(spans, func(s wording.Span) bool { return byMachine(s, spans, words) })
	})
}

// foreign gives the danger that a word of another language means.
func (g *guard) foreign(text string, names []string) string {
	for _, c := range wording.Clauses(text) {
		words := nameless(c.Words, names)
		if d := abroad(g.lx.Find(words), len(words)); d != "" {
			return d
		}
	}
	return ""
}

// abroad gives the danger that words of another language mean among so many: one that is
// always a danger; one that is in everyday use, too, by itself or beside a word of its language
// that says that it is here; and a caller with a code.
func abroad(spans []wording.Span, words int) string {
	for _, s := range spans {
		tongue, danger, ok := strings.Cut(s.Kind, " ")
		if !ok {
			continue
		}
		maybe, doubted := strings.CutSuffix(danger, "?")
		switch {
		case danger == "here", danger == "code":
		case danger == "call":
			if wording.Has(spans, tongue+" code") {
				return Caller
			}
		case !doubted, words == s.To-s.From, wording.Has(spans, tongue+" here"):
			return maybe
		}
	}
	return ""
}

func (g *guard) clause(c wording.Clause, names []string, naming bool) string {
	bare := wording.Unpolite(nameless(c.Words, names))
	if against(bare, g.lx.Find(bare)) {
		return ""
	}
	words := nameless(c.Words, names) // "no respira" begins with no courtesy
	spans := g.lx.Find(words)
	spans = slices.DeleteFunc(spans, func(s wording.Span) bool {
		return excused(s, spans) || byMachine(s, spans, words) || ofPlace(s, spans)
	})
	if guides.Injury(c.Text) {
		spans = append(spans, wording.Span{Kind: "hurt"})
	}
	if slices.ContainsFunc(words, reflexive) {
		spans = append(spans, wording.Span{Kind: "self"})
	}
	if joined := strings.Join(words, " "); joined == "hold up" || joined == "stick up" ||
		joined == "attack" {
		spans = append(spans, wording.Span{Kind: "holdup"})
	}
	if d := abroad(spans, len(bare)); d != "" && !naming {
		return d
	}
	for _, p := range proofs {
		if p.holds(spans, len(bare)) {
			return p.danger
		}
	}
	return ""
}

func (p proof) holds(spans []wording.Span, words int) bool {
	return (p.most == 0 || words <= p.most) &&
		!slices.ContainsFunc(p.not, func(kind string) bool { return wording.Has(spans, kind) }) &&
		!slices.ContainsFunc(p.all, func(kind string) bool { return !wording.Has(spans, kind) })
}

// nameless leaves out the names of people, as far as none has an article.
func nameless(words, names []string) []string {
	out := make([]string, 0, len(words))
	var called []string
	for _, n := range names {
		called = append(called, wording.Of(n)...)
	}
	for i, w := range words {
		named := slices.Contains(called, w)
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
func against(words []string, spans []wording.Span) bool {
	present := wording.Has(spans, "now")
	for _, s := range spans {
		switch s.Kind {
		case "gone":
			if !present {
				return true
			}
		case "supposing":
			asksPast := words[s.From] == "was" || words[s.From] == "were" || words[s.From] == "did" ||
				words[s.From] == "has" || words[s.From] == "have" || words[s.From] == "is"
			if s.From == 0 || !asksPast && s.From <= supposedWithin {
				return true
			}
		case "unreal":
			if s.From == 0 || !slices.Contains([]string{"no", "not"}, words[s.From-1]) &&
				(s.From == 1 || words[s.From-2] != "not") {
				return true
			}
		}
	}
	return false
}

// excused reports whether a word of fire is part of something harmless.
func excused(s wording.Span, spans []wording.Span) bool {
	if s.Kind != "fire" && s.Kind != "smoking" && s.Kind != "gun" {
		return false
	}
	return slices.ContainsFunc(spans, func(o wording.Span) bool {
		return o.Kind == "nofire" && o.From <= s.From && s.To <= o.To
	})
}

// ofPlace reports whether a danger's word only names a place: Shotgun Street.
func ofPlace(s wording.Span, spans []wording.Span) bool {
	may := []string{"gun", "blade", "alone", "robbery", "fire", "hurt"}
	return s.To-s.From == 1 && slices.Contains(may, s.Kind) &&
		slices.ContainsFunc(spans, func(o wording.Span) bool { return o.Kind == "place" && o.From == s.To })
}

// byMachine reports whether it is the machine that robs: "it robbed me".
func byMachine(s wording.Span, spans []wording.Span, words []string) bool {
	robs := strings.HasPrefix(words[s.From], "rob") && words[s.From] != "robber" && words[s.From] != "robbery"
	if s.Kind != "robbery" || !robs && words[s.From] != "mugged" {
		return false
	}
	return slices.ContainsFunc(spans, func(o wording.Span) bool {
		if o.Kind != "machine" {
			return false
		}
		before := o.To <= s.From && s.From-o.To <= 2
		passive := before && slices.ContainsFunc(words[o.To:s.From], isBe)
		after := o.From > s.From && o.From-s.From <= 3 && slices.Contains(words[s.From:o.From], "by")
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
	for _, c := range wording.Clauses(text) {
		spans := g.lx.Find(c.Words)
		over = over || len(c.Words) == 1 && slices.Contains([]string{"over", "safe", "finished"}, c.Words[0])
		over = over || wording.Has(spans, "over")
		never = never || wording.Has(spans, "false")
	}
	return over || never, never
}
