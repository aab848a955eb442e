package botapitest_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// benchBody is a usual card: two lines of HTML and three buttons.
const benchBody = `{"chat_id":1001,"parse_mode":"HTML",` +
	`"text":"Cassette 1: <b>40</b> notes of €50\nCassette 2: <b>150</b> notes of €20",` +
	`"reply_markup":{"inline_keyboard":[[{"text":"Confirm","callback_data":"a:17:confirm"},` +
	`{"text":"Change","callback_data":"a:17:change"}],[{"text":"Cancel","callback_data":"a:17:cancel"}]]}}`

// BenchmarkHandler is the stand-in's own work for one card, without a network.
func BenchmarkHandler(b *testing.B) {
	srv := botapitest.New(botapitest.Options{KeepMessages: 20})
	srv.AddUser(ann, "Ann")
	path := "/bot" + srv.Token() + "/sendMessage"
	header := http.Header{"Content-Type": {"application/json"}}
	b.ReportAllocs()
	for b.Loop() {
		r, err := http.NewRequest(http.MethodPost, path, strings.NewReader(benchBody))
		if err != nil {
			b.Fatal(err)
		}
		r.Header = header
		w := httptest.NewRecorder()
		if srv.ServeHTTP(w, r); w.Code != http.StatusOK {
			b.Fatal(w.Body.String())
		}
	}
}

// BenchmarkLoopback is a whole call over TCP on kept connections, client included.
func BenchmarkLoopback(b *testing.B) {
	srv := botapitest.New(botapitest.Options{KeepMessages: 20})
	if err := srv.Start(); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(srv.Close)
	srv.AddUser(ann, "Ann")
	url := srv.URL() + "/bot" + srv.Token() + "/sendMessage"
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	b.ReportAllocs()
	b.SetParallelism(16)
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			resp, err := client.Post(url, "application/json", strings.NewReader(benchBody))
			if err != nil {
				b.Error(err)
				return
			}
			_, err = io.Copy(io.Discard, resp.Body)
			if resp.StatusCode != http.StatusOK || err != nil {
				b.Error(resp.Status, err)
			}
			_ = resp.Body.Close()
		}
	})
}
