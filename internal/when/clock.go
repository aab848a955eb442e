package when

// dayMinutes is how many minutes a day of the clock has.
const dayMinutes = 1440

// halfDay is how many of them are before noon.
const halfDay = 720

// Clock reads the time of day at the beginning of a text, in minutes after
// midnight, and what follows: 6:40, 6.40, 6h40, 640, 18, 6 pm. 24:00 is the end of
// the day. On refusal rest is the text.
func Clock(text string) (minutes int, rest string, why Reason) {
	s := Reader{}.scan(text)
	minutes, n, why := s.clock(0)
	if why != OK {
		return 0, text, why
	}
	return minutes, s.rest(n), OK
}

// clock reads a time of day at a place, and how many tokens it took.
func (s *scan) clock(i int) (minutes, n int, why Reason) {
	h, m, n, why := s.hourMinute(i)
	if why != OK {
		return 0, 0, why
	}
	half := s.at(i + n).text
	twelve := half == "am" || half == "pm"
	if twelve {
		n++
	}
	minutes = h*60 + m
	if s.runsOn(i+n) || s.follows(i+n, number) {
		return 0, 0, Unknown
	}
	if m > 59 || minutes > dayMinutes || twelve && (h < 1 || h > 12) {
		return 0, 0, Impossible
	}
	if twelve {
		minutes %= halfDay
	}
	if half == "pm" {
		minutes += halfDay
	}
	return minutes, n, OK
}

// hourMinute reads the figures of a time. One figure behind a full stop may be
// minutes or a part of an hour.
func (s *scan) hourMinute(i int) (h, m, n int, why Reason) {
	if h = s.figure(i, 4); h < 0 {
		return 0, 0, 0, Unknown
	}
	if digits := len(s.at(i).text); digits > 2 {
		return h / 100, h % 100, 1, OK
	}
	sep := s.at(i + 1).text
	m = s.figure(i+2, 2)
	if sep == ":" && m >= 0 {
		return h, m, 3, OK // spoken into a phone it is 6 : 40
	}
	if !s.sticks(i+1, ".") && !s.sticks(i+1, "h") {
		return h, 0, 1, OK
	}
	if m < 0 || !s.at(i+2).glued {
		if sep == "h" {
			return h, 0, 2, OK
		}
		return h, 0, 1, OK
	}
	if sep == "." && len(s.at(i+2).text) == 1 && !s.runsOn(i+3) {
		return 0, 0, 0, Ambiguous
	}
	return h, m, 3, OK
}

// SetClock reads a time of day and nothing else.
func SetClock(set **int, s string) bool {
	minutes, rest, why := Clock(s)
	if why != OK || rest != "" || minutes >= dayMinutes {
		return false
	}
	*set = &minutes
	return true
}
