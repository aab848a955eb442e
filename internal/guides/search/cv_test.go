package search

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

func AnyMin(v float64) { anyMin = v }

func TestCV(t *testing.T) {
	if v := os.Getenv("PAR"); v != "" {
		f := strings.Split(v, ",")
		if len(f) > 3 {
			anyMin, _ = strconv.ParseFloat(f[3], 64)
		}
		r, _ := strconv.Atoi(f[0])
		rounds = r
		pace, _ = strconv.ParseFloat(f[1], 64)
		shrink, _ = strconv.ParseFloat(f[2], 64)
	}
	var topics []Topic
	ents, _ := os.ReadDir("../data")
	for _, e := range ents {
		b, _ := os.ReadFile("../data/" + e.Name())
		_, asks, _ := strings.Cut(string(b), "== asked as\n")
		topics = append(topics, Topic{ID: strings.TrimSuffix(e.Name(), ".guide"), Asked: strings.Split(strings.TrimSpace(asks), "\n")})
	}
	chat := strings.Split(strings.TrimSpace(string(chatterFile)), "\n")
	save := chatterFile
	defer func() { chatterFile = save }()
	var n, t1, t3, cn, ca int
	conf := map[string]int{}
	for fold := range 5 {
		var train []Topic
		for _, tp := range topics {
			tr := Topic{ID: tp.ID}
			for i, a := range tp.Asked {
				if i%5 != fold {
					tr.Asked = append(tr.Asked, a)
				}
			}
			train = append(train, tr)
		}
		var ch []string
		for i, c := range chat {
			if i%5 != fold {
				ch = append(ch, c)
			}
		}
		chatterFile = []byte(strings.Join(ch, "\n"))
		st := time.Now()
		ix, _ := New(train)
		if fold == 0 {
			fmt.Println("train", time.Since(st), len(ix.m.ids))
		}
		for _, tp := range topics {
			for i, a := range tp.Asked {
				if i%5 != fold {
					continue
				}
				n++
				r := ix.Search(a)
				for k, id := range r.IDs {
					if id == tp.ID {
						t3++
						if k == 0 {
							t1++
						}
					}
				}
				if len(r.IDs) == 0 || r.IDs[0] != tp.ID {
					g := "none"
					if len(r.IDs) > 0 {
						g = r.IDs[0]
					}
					conf[tp.ID+" -> "+g]++
					if os.Getenv("SHOWCV") != "" {
						fmt.Printf("%s %q %v\n", tp.ID, a, r.IDs)
					}
				}
			}
		}
		for i, c := range chat {
			if i%5 != fold {
				continue
			}
			cn++
			if r := ix.Search(c); len(r.IDs) > 0 {
				ca++
				if os.Getenv("SHOWCV") != "" {
					fmt.Printf("CHAT %q %v\n", c, r.IDs)
				}
			}
		}
	}
	fmt.Printf("CV %s top1 %.1f top3 %.1f chat %.1f (n %d %d)\n", os.Getenv("PAR"), 100*float64(t1)/float64(n), 100*float64(t3)/float64(n), 100*float64(ca)/float64(cn), n, cn)
}
