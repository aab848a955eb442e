package counts

// answerBare answers with entries that name no box and no kind of note. It reports false when the numbers
// turn out to be pairs of face and count, which are then for answerKeyed.
func (ans *answers) answerBare() (done bool) {
	if len(ans.entries) == 1 && len(ans.got) > 0 && ans.giveAll(&ans.entries[0]) {
		return true
	}
	ans.readLongList()
	ans.readThousands()
	if ans.pairsShape() && (!ans.fits(len(ans.entries)) || ans.rowsOfTwo()) {
		return false
	}
	ans.giveList()
	return true
}

// giveAll answers every line with one entry, which is none.
func (ans *answers) giveAll(e *entry) (done bool) {
	if ans.each || ans.both {
		ans.giveEach(e)
		return true
	}
	if e.isZero() && (ans.req.ZeroAll || ans.all) {
		for line := range ans.got {
			ans.put(line, e)
		}
		return true
	}
	if ans.all && len(ans.req.Lines) > 1 {
		ans.refuse(Unreadable, -1, e)
		return true
	}
	return false
}

// giveEach answers each line that is still asked with one entry: 150 each. "Both" are two:
// those that are left, or all there are.
func (ans *answers) giveEach(e *entry) {
	from := ans.next()
	if ans.both && ans.remaining() != 2 {
		if from = 0; len(ans.got) != 2 {
			if !e.isZero() {
				ans.refuse(Unreadable, -1, e)
				return
			}
		}
	}
	for line := from; line < len(ans.got); line++ {
		ans.put(line, e)
	}
}

// remaining is how many lines are asked from the next on.
func (ans *answers) remaining() int { return len(ans.req.Lines) - ans.next() }

// next is Request.Next held inside the lines.
func (ans *answers) next() int { return max(0, min(ans.req.Next, len(ans.req.Lines))) }

// fits reports whether n numbers in a row can be answers.
func (ans *answers) fits(n int) bool { return n == len(ans.req.Lines) || n <= ans.remaining() }

// readLongList reads 150,200,40 as a list where it is no plausible number and the list fits.
func (ans *answers) readLongList() {
	n := 0
	for i := range ans.entries {
		n += max(1, ans.listLen(&ans.entries[i]))
	}
	if n == len(ans.entries) || !ans.fits(n) {
		return
	}
	split := make([]entry, 0, n)
	for i := range ans.entries {
		split = ans.appendList(split, &ans.entries[i])
	}
	ans.entries = split
}

// listLen is the numbers in an entry that should rather be read as a list, 0 for any other entry.
func (ans *answers) listLen(e *entry) int {
	if e.run == 0 || (e.isMoney && e.code == OK) || isPlausible(ans.atoms[e.run-1].fig) {
		return 0
	}
	p, ok := cutRun(ans.text[e.start:e.end])
	if !ok || !p.list() {
		return 0
	}
	return p.n
}

func (ans *answers) appendList(dst []entry, e *entry) []entry {
	if ans.listLen(e) == 0 {
		return append(dst, *e)
	}
	p, _ := cutRun(ans.text[e.start:e.end])
	for _, text := range p.text[:p.n] {
		one := entry{atom: e.atom, row: e.row, line: -1, start: e.start, end: e.end}
		one.add(parseFigure(text, false))
		dst = append(dst, one)
	}
	return dst
}

// giveList answers line by line.
func (ans *answers) giveList() {
	n, all := len(ans.entries), len(ans.req.Lines)
	if n == all {
		ans.fill(0, false)
		return
	}
	if n == ans.remaining() {
		ans.fill(ans.next(), false)
		return
	}
	if ans.width(0) == all {
		ans.fill(0, true)
		return
	}
	if ans.width(ans.next()) > ans.remaining() {
		last := near(ans.text[ans.entries[n-1].start:ans.entries[n-1].end])
		ans.fail(Problem{Code: TooMany, Near: last, Line: -1, Want: ans.remaining(), Got: n})
		return
	}
	if ans.pairsShape() {
		ans.refuse(FaceOrNotes, -1, &ans.entries[0])
		return
	}
	ans.fill(ans.next(), true)
	if n > 1 {
		ans.fail(Problem{Code: TooFew, Line: -1, Want: ans.remaining(), Got: n})
	}
}

// fill gives the entries to the lines from start on; with spread a sum goes to the boxes of one face that
// stand side by side.
func (ans *answers) fill(start int, spread bool) {
	line := start
	for i := range ans.entries {
		e := &ans.entries[i]
		if k := ans.spread(line, e); spread && k > 0 {
			ans.giveParts(line, e)
			line += k
			continue
		}
		ans.put(line, e)
		line++
	}
}

// width is how many lines the entries take from start on when sums spread.
func (ans *answers) width(start int) int {
	line := start
	for i := range ans.entries {
		line += max(1, ans.spread(line, &ans.entries[i]))
	}
	return line - start
}

// spread is how many boxes of one face a sum fills from line on, 0 if it is one number for one line.
func (ans *answers) spread(line int, e *entry) int {
	if e.bundled || e.isMoney || e.code != OK || e.nParts < 2 || line+e.nParts > len(ans.faces) {
		return 0
	}
	for k := range e.nParts {
		if ans.faces[line+k] != ans.faces[line] {
			return 0
		}
	}
	return e.nParts
}

// giveParts gives the numbers of a sum to the lines from line on.
func (ans *answers) giveParts(line int, e *entry) {
	for k := range e.nParts {
		part := *e
		part.parts[0], part.nParts = e.parts[k], 1
		ans.put(line+k, &part)
	}
}

// spacedMax bounds the numbers in which a thousands blank is looked for.
const spacedMax = 16

// readThousands makes one number of two that a plain blank parts, as in "2 000", where nothing else can be
// meant: three figures that begin with a zero are no count anybody types, and where all numbers are too many
// for the lines, one way of joining may make them just enough.
func (ans *answers) readThousands() {
	for i := 0; i+1 < len(ans.entries); i++ {
		if ans.isThousands(i) && ans.text[ans.entries[i+1].start] == '0' {
			ans.join(i)
		}
	}
	if ans.fits(len(ans.entries)) || ans.pairsShape() || len(ans.entries) > spacedMax {
		return
	}
	var found []int
	ways := 0
	for _, want := range ans.wanted() {
		ans.ways(0, len(ans.entries)-want, nil, func(at []int) {
			ways++
			found = at
		})
	}
	if ways != 1 {
		return
	}
	for k, i := range found {
		ans.join(i - k)
	}
}

// wanted lists how many numbers fill the lines: all of them, or those from the next on.
func (ans *answers) wanted() []int {
	if all := len(ans.req.Lines); all != ans.remaining() {
		return []int{all, ans.remaining()}
	}
	return []int{ans.remaining()}
}

// ways gives every way to join a number of pairs from an entry on to counts that
// a box can hold, as the indexes of their first halves.
func (ans *answers) ways(from, pairs int, at []int, found func([]int)) {
	if pairs == 0 {
		found(at)
		return
	}
	for i := from; i+1 < len(ans.entries); i++ {
		if ans.isThousands(i) && isPlausible(ans.joined(i)) {
			ans.ways(i+2, pairs-1, append(at[:len(at):len(at)], i), found)
		}
	}
}

// isThousands recognizes an entry of one to three figures, the first no zero, with a
// plain blank and an entry of exactly three figures behind it.
func (ans *answers) isThousands(i int) bool {
	a, b := &ans.entries[i], &ans.entries[i+1]
	n := a.end - a.start
	return a.run != 0 && b.run != 0 && b.atom == a.atom+1 && a.row == b.row &&
		n >= 1 && n <= 3 && ans.text[a.start] != '0' && isDigits(ans.text[a.start:a.end]) &&
		b.end-b.start == 3 && isDigits(ans.text[b.start:b.end]) && ans.text[a.end:b.start] == " "
}

// joined is the number that an entry makes with the one behind it.
func (ans *answers) joined(i int) figure {
	a, b := &ans.entries[i], &ans.entries[i+1]
	return parseFigure(ans.text[a.start:a.end]+ans.text[b.start:b.end], false)
}

// join puts that number in the place of both.
func (ans *answers) join(i int) {
	a, b := ans.entries[i], ans.entries[i+1]
	one := entry{atom: a.atom, row: a.row, line: -1, start: a.start, end: b.end}
	one.add(ans.joined(i))
	ans.entries[i] = one
	ans.entries = append(ans.entries[:i+1], ans.entries[i+2:]...)
}

// pairsShape recognizes plain numbers of which every first of two is another face that is asked: 50 40 20
// 150.
func (ans *answers) pairsShape() bool {
	n := len(ans.entries)
	if n == 0 || n%2 != 0 {
		return false
	}
	for i := range ans.entries {
		if ans.entries[i].run == 0 || ans.entries[i].code != OK {
			return false
		}
		if i%2 != 0 {
			continue
		}
		face := ans.pairFace(i)
		if !ans.isFace(face) {
			return false
		}
		for k := 0; k < i; k += 2 {
			if ans.pairFace(k) == face {
				return false
			}
		}
	}
	return true
}

func (ans *answers) pairFace(i int) value { return ans.atoms[ans.entries[i].run-1].fig.value }

// rowsOfTwo recognizes two rows or more with two numbers each.
func (ans *answers) rowsOfTwo() bool {
	n := len(ans.entries)
	for i := 0; i < n; i += 2 {
		row := ans.entries[i].row
		if ans.entries[i+1].row != row || i > 0 && ans.entries[i-1].row == row {
			return false
		}
	}
	return n > 2
}

// givePairs makes keyed entries of pairs.
func (ans *answers) givePairs() {
	pairs := ans.entries[:0]
	for i := 0; i < len(ans.entries); i += 2 {
		e := ans.entries[i+1]
		e.start, e.keyed, e.face = ans.entries[i].start, true, ans.pairFace(i)
		pairs = append(pairs, e)
	}
	ans.entries = pairs
}
