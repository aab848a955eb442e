package across

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/telling"
)

// siteLines is how many machines an overview shows at once.
const siteLines = 5

// Overview tells, by pages from 1, how every machine stands that the speaker manages; at
// gives what tells of one of them.
func Overview(t *telling.Teller, all []chat.Site, page int, at func(chat.Site) *telling.Teller) chat.Reply {
	var sites []chat.Site
	for _, s := range all {
		if s.Person.Role.Manages() {
			sites = append(sites, s)
		}
	}
	if page < 1 || (page-1)*siteLines >= len(sites) {
		page = 1
	}
	from := min((page-1)*siteLines, len(sites))
	to := min(from+siteLines, len(sites))
	body := []chat.Block{{Text: t.V.Say("overview")}}
	for _, s := range sites[from:to] {
		list := []string{readback.SiteName(t, s)}
		if s.Machine == nil {
			list = append(list, t.V.Say("not-set-up"))
		} else {
			list = append(list, stands(at(s), s)...)
		}
		body = append(body, chat.Lines(list...))
	}
	if to < len(sites) {
		body = append(body, chat.Block{Text: t.V.Say("overview-more", "page", page+1)})
	}
	return chat.Reply{Body: body}
}

// stands tells of one machine: open or closed, levels, last difference, and what is overdue.
func stands(t *telling.Teller, s chat.Site) (list []string) {
	p := t.M.Current()
	switch levels := t.V.Say("hidden"); {
	case p == nil:
		list = append(list, t.V.Say("site.closed"))
	case !s.Blind:
		words := readback.LevelsInWords(t, lines.Of(lines.Boxes(p, t.Kit.Boxes)), p)
		levels = t.V.Say("site.levels", "levels", words)
		fallthrough
	default:
		list = append(list, t.V.Say("site.open", "when", t.Clock(p.Opened), "who", t.Name(p.By)), levels)
	}
	if last := t.M.Last(); last != nil && last.Status == books.Closed && !s.Blind {
		list = append(list, t.V.Say("site.last", "day", t.V.Day(t.Local(last.Opened)),
			"result", telling.Total(t, last, last.Verdict, last.Variance)))
	}
	if p != nil && !telling.SameDay(t.Local(p.Opened), t.Local(t.Now)) && s.Shop.Nightly {
		list = append(list, t.V.Say("site.overdue", "day", t.V.Day(t.Local(p.Opened))))
	}
	return append(list, telling.Todo(t)...)
}
