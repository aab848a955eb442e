package vitals_test

import (
	"bufio"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/vitals"
)

func get(r vitals.Reading, path string) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h := vitals.Handler(func() vitals.Reading { return r })
	h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w
}

func TestHealth(t *testing.T) {
	well := vitals.Reading{Polled: 11 * time.Second, Unsent: 3, Oldest: time.Second, Copied: -1}
	for name, c := range map[string]struct {
		change func(*vitals.Reading)
		says   string
	}{
		"well":            {func(*vitals.Reading) {}, ""},
		"on paper":        {func(r *vitals.Reading) { r.OnPaper = true }, "nothing can be written"},
		"no line":         {func(r *vitals.Reading) { r.Polled = time.Hour }, "not answered for 1h0m0s"},
		"a message waits": {func(r *vitals.Reading) { r.Oldest = time.Hour }, "waited for 1h0m0s"},
		"none waits":      {func(r *vitals.Reading) { r.Oldest, r.Unsent = time.Hour, 0 }, ""},
		"no copy ever":    {func(r *vitals.Reading) { r.Copies = true }, "no copy was made"},
		"a copy of today": {func(r *vitals.Reading) { r.Copies, r.Copied = true, 20*time.Hour }, ""},
		"copies long ago": {func(r *vitals.Reading) { r.Copies, r.Copied = true, 99*time.Hour }, "no copy"},
	} {
		r := well
		c.change(&r)
		w := get(r, "/health")
		want := http.StatusOK
		if c.says != "" {
			want = http.StatusServiceUnavailable
		}
		if w.Code != want || !strings.Contains(w.Body.String(), c.says) {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
}

// Every line is one of the text format 0.0.4 (Prometheus documentation,
// Exposition formats), and the figures are those that were read.
func TestMetrics(t *testing.T) {
	w := get(vitals.Reading{Inputs: 41, Unsent: 3, OnPaper: true}, "/metrics")
	line := regexp.MustCompile(`^([a-zA-Z_:][a-zA-Z0-9_:]*(\{[^}]*\})? [-+0-9.eEInfa]+|# (HELP|TYPE) .*|)$`)
	for lines := bufio.NewScanner(strings.NewReader(w.Body.String())); lines.Scan(); {
		if !line.MatchString(lines.Text()) {
			t.Errorf("no line of the format: %q", lines.Text())
		}
	}
	for _, want := range []string{
		"shopfloat_inputs_total 41\n", "shopfloat_messages_unsent 3\n", "shopfloat_on_paper 1\n",
		"shopfloat_healthy 0\n",
		"process_resident_memory_bytes ",
	} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("%q is missing", want)
		}
	}
	for copied, want := range map[time.Duration]string{-1: "NaN", time.Hour: "3600"} {
		body := get(vitals.Reading{Copied: copied}, "/metrics").Body.String()
		if !strings.Contains(body, "shopfloat_copy_made_seconds_ago "+want+"\n") {
			t.Errorf("a copy made %v ago is not told as %s", copied, want)
		}
	}
	if w := get(vitals.Reading{}, "/"); w.Code != http.StatusNotFound {
		t.Errorf("anything else: %d", w.Code)
	}
}

func TestOnlyThisComputer(t *testing.T) {
	for address, good := range map[string]bool{
		"127.0.0.1:9117": true, "[::1]:9117": true, "localhost:0": true, ":9117": false, "0.0.0.0:9117": false,
		"192.0.2.7:80": false, "example.com:80": false, "9117": false, "": false,
	} {
		if err := vitals.Check(address); (err == nil) != good {
			t.Errorf("%q: %v", address, err)
		}
	}
}
