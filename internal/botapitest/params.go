package botapitest

import (
	"bytes"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"
)

const (
	maxTextBytes     = 1 << 20  // all text parameters together, FACTS.md A, Files
	maxFileBytes     = 50 << 20 // one uploaded file, FACTS.md A, Files
	maxBoundaryBytes = 70       // multipart boundary, FACTS.md A, Files
)

// param is one parameter as text: JSON strings are unquoted, numbers, booleans, lists and objects stay as
// sent.
type param struct {
	name  string
	value []byte
}

// part is an uploaded file.
type part struct {
	field, name string
	data        []byte
}

// read collects parameters from the query string and from a body in any of the three accepted types.
func (c *call) read(r *http.Request) *apiError {
	if r.URL.RawQuery != "" {
		if err := c.readForm(r.URL.RawQuery); err != nil {
			return err
		}
	}
	if r.Body == nil || r.Body == http.NoBody {
		return nil
	}
	kind, rest, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	switch strings.ToLower(strings.TrimSpace(kind)) {
	case "application/json":
		if err := c.readBody(r); err != nil {
			return err
		}
		return c.readJSON()
	case "multipart/form-data":
		return c.readMultipart(r, rest)
	case "application/x-www-form-urlencoded":
		if err := c.readBody(r); err != nil {
			return err
		}
		return c.readForm(string(c.body))
	}
	return nil // as the platform does, a body of another type is not looked at
}

func (c *call) readBody(r *http.Request) *apiError {
	if r.ContentLength > maxTextBytes {
		return errTooLarge
	}
	buf := bytes.NewBuffer(c.body[:0])
	if r.ContentLength > 0 {
		buf.Grow(int(r.ContentLength) + bytes.MinRead)
	}
	_, err := buf.ReadFrom(io.LimitReader(r.Body, maxTextBytes+1))
	c.body = buf.Bytes()
	if len(c.body) > maxTextBytes {
		return errTooLarge
	}
	if err != nil {
		return badRequest("can't read the request body")
	}
	return nil
}

func (c *call) readForm(raw string) *apiError {
	values, err := url.ParseQuery(raw)
	if err != nil {
		return badRequest("can't parse the parameters")
	}
	for name, list := range values {
		c.params = append(c.params, param{name, []byte(list[0])})
	}
	return nil
}

// readMultipart accepts chunked bodies, no parts at all, and an empty body: the library sends all three.
func (c *call) readMultipart(r *http.Request, rest string) *apiError {
	_, attrs, err := mime.ParseMediaType("multipart/form-data;" + rest)
	boundary := attrs["boundary"]
	if err != nil || boundary == "" || len(boundary) > maxBoundaryBytes {
		return badRequest("boundary not found")
	}
	reader := multipart.NewReader(r.Body, boundary)
	left := maxTextBytes
	for {
		p, err := reader.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return badRequest("can't parse multipart body")
		}
		if err := c.readPart(p, &left); err != nil {
			return err
		}
	}
}

func (c *call) readPart(p *multipart.Part, left *int) *apiError {
	limit := *left
	if p.FileName() != "" {
		limit = maxFileBytes
	}
	data, err := io.ReadAll(io.LimitReader(p, int64(limit)+1))
	if err != nil {
		return badRequest("can't parse multipart body")
	}
	if len(data) > limit {
		return errTooLarge
	}
	if p.FileName() != "" {
		c.parts = append(c.parts, part{p.FormName(), p.FileName(), data})
		return nil
	}
	*left -= len(data)
	c.params = append(c.params, param{p.FormName(), data})
	return nil
}

// raw is the value of a parameter, nil if it is absent.
func (c *call) raw(name string) []byte {
	for i := range c.params {
		if c.params[i].name == name {
			return c.params[i].value
		}
	}
	return nil
}

func (c *call) text(name string) string { return string(c.raw(name)) }

// integer reads a whole number within bounds. Like the platform it takes def for anything unreadable and
// clamps.
func (c *call) integer(name string, def, low, high int64) int64 {
	n, err := strconv.ParseInt(string(bytes.TrimSpace(c.raw(name))), 10, 64)
	if err != nil {
		n = def
	}
	return min(max(n, low), high)
}

// flag reads a boolean: true, yes and 1 in any case, from the platform's own reading of booleans.
func (c *call) flag(name string) bool {
	switch strings.ToLower(strings.TrimSpace(c.text(name))) {
	case "true", "yes", "1":
		return true
	}
	return false
}
