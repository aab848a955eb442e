package botapitest

import (
	"net/url"
	"strings"
)

// checkLink gives the address a link leads to, "" if the platform would not make a link of it. An address
// without a scheme gets http. Narrower than the platform, which knows more forms of host.
func checkLink(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s, " \n\t") {
		return ""
	}
	if !strings.Contains(s, "://") && !strings.HasPrefix(s, "mailto:") {
		s = "http://" + s
	}
	u, err := url.Parse(s)
	if err != nil {
		return ""
	}
	switch u.Scheme {
	case "tg", "ton", "tonsite":
		return s
	case "mailto":
		return s
	case "http", "https":
		if host := u.Hostname(); strings.Contains(strings.Trim(host, "."), ".") || host == "localhost" {
			return s
		}
	}
	return ""
}
