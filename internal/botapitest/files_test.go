package botapitest_test

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"shopfloat/internal/botapitest"
)

// upload posts one file to Ann as multipart, with further fields.
func upload(t *testing.T, srv *botapitest.Server, method, field, name, data string,
	more map[string]string) reply {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	p, err := w.CreateFormFile(field, name)
	if err == nil {
		_, err = p.Write([]byte(data))
	}
	if err != nil {
		t.Fatal(err)
	}
	fields := map[string]string{"chat_id": fmt.Sprint(ann)}
	for k, v := range more {
		fields[k] = v
	}
	for k, v := range fields {
		if err := w.WriteField(k, v); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, "/bot"+srv.Token()+"/"+method, &body)
	r.Header.Set("Content-Type", w.FormDataContentType())
	return serve(t, srv, r)
}

func fetch(srv *botapitest.Server, path string) (int, string) {
	w := httptest.NewRecorder()
	srv.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w.Code, w.Body.String()
}

// FACTS.md E: file parts under the field's name or attach://NAME; A, Files: sizes; again by file id.
func TestUploads(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	button := keyboard(`{"text":"A","callback_data":"x"}`)
	m := decode[message](t, upload(t, srv, "sendDocument", "document", "may.csv", "a;b", map[string]string{
		"caption": "<b>May</b>", "parse_mode": "HTML", "reply_markup": button}))
	if m.Document.Name != "may.csv" || m.Caption != "May" || len(m.Markup.Inline) != 1 {
		t.Errorf("document %+v", m)
	}
	attached := map[string]string{"photo": "attach://slip"}
	m = decode[message](t, upload(t, srv, "sendPhoto", "slip", "slip.jpg", "picture", attached))
	if n := len(m.Photo); n != 2 || string(srv.File(m.Photo[n-1].ID)) != "picture" {
		t.Errorf("photo %+v", m.Photo)
	}
	again := params(t, "chat_id", ann, "photo", m.Photo[1].ID)
	want(t, "by id", ask(t, srv, "sendPhoto", again), "")
	photo := func(data, caption string) reply {
		return upload(t, srv, "sendPhoto", "photo", "p", data, map[string]string{"caption": caption})
	}
	for name, tt := range map[string]struct {
		r    reply
		want string
	}{
		"photo of 10 MiB and one": {photo(strings.Repeat("x", 10<<20+1), ""), "file is too big"},
		"empty file":              {photo("", ""), "file must be non-empty"},
		"caption of 1025":         {photo("x", strings.Repeat("é", 1025)), "message caption is too long"},
		"no photo": {call(t, srv, "sendPhoto", "chat_id", ann),
			"there is no photo in the request"},
		"no document": {call(t, srv, "sendDocument", "chat_id", ann),
			"there is no document in the request"},
		"unknown id": {call(t, srv, "sendDocument", "chat_id", ann, "document", "fileX"),
			"wrong file identifier/HTTP URL specified"},
	} {
		want(t, name, tt.r, "Bad Request: "+tt.want)
	}
	want(t, "caption of 1024", photo("x", strings.Repeat("é", 1024)), "")
	large := upload(t, srv, "sendDocument", "document", "d", strings.Repeat("x", 50<<20+1), nil)
	want(t, "document over 50 MiB", large, "Request Entity Too Large")
}

// A file a person sent comes with name, kind and size where they are known (API Document), and can be
// fetched.
func TestDocuments(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.SendDocument(ann, "may.csv", "text/csv", []byte("a;b"), "for May")
	srv.SendDocument(ann, "", "", []byte("c"), "")
	body := ask(t, srv, "getUpdates", "").Result
	for _, part := range []string{`"caption":"for May"`,
		`"document":{"file_id":"file1","file_unique_id":"ufile1",` +
			`"file_size":3,"file_name":"may.csv","mime_type":"text/csv"}`,
		`"document":{"file_id":"file2","file_unique_id":"ufile2","file_size":1}`} {
		if strings.Count(string(body), part) != 1 {
			t.Errorf("%s is not once in %s", part, body)
		}
	}
	f := decode[struct {
		Path string `json:"file_path"`
	}](t, call(t, srv, "getFile", "file_id", "file1"))
	if code, got := fetch(srv, "/file/bot"+srv.Token()+"/"+f.Path); code != 200 || got != "a;b" {
		t.Errorf("download: %d %q", code, got)
	}
}

// A picture a person sent can be fetched: getFile, then the path (API getFile; FACTS.md A, Files).
func TestDownloads(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.SendPhoto(ann, []byte("slip"), "the slip")
	got := decode[[]struct{ Message message }](t, ask(t, srv, "getUpdates", ""))
	photo := got[0].Message.Photo
	if got[0].Message.Caption != "the slip" || len(photo) != 2 {
		t.Fatalf("update %+v", got)
	}
	f := decode[struct {
		Path string `json:"file_path"`
	}](t, call(t, srv, "getFile", "file_id", photo[1].ID))
	if code, body := fetch(srv, "/file/bot"+srv.Token()+"/"+f.Path); code != 200 || body != "slip" {
		t.Errorf("download: %d %q", code, body)
	}
	if code, _ := fetch(srv, "/file/bot"+srv.Token()+"/photos/none"); code != 404 {
		t.Errorf("unknown path: %d", code)
	}
	if code, _ := fetch(srv, "/file/bot1:x/"+f.Path); code != 401 {
		t.Errorf("other token: %d", code)
	}
	srv.LoseFiles()
	want(t, "lost", call(t, srv, "getFile", "file_id", photo[1].ID), "")
	if code, _ := fetch(srv, "/file/bot"+srv.Token()+"/"+f.Path); code != 404 {
		t.Errorf("lost file: %d", code)
	}
	want(t, "unknown id", ask(t, srv, "getFile", `{"file_id":"x"}`),
		"Bad Request: wrong file_id or the file is temporarily unavailable")
	data := strings.Repeat("x", 20<<20+1)
	large := decode[message](t, upload(t, srv, "sendDocument", "document", "d", data, nil))
	want(t, "over 20 MiB", call(t, srv, "getFile", "file_id", large.Document.ID),
		"Bad Request: file is too big")
	if srv.File("x") != nil {
		t.Error("unknown file has content")
	}
}
