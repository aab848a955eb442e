package botapitest

import (
	"net/http"
	"strconv"
	"strings"
)

const (
	maxPhotoBytes    = 10 << 20 // upload of a photo, API sendPhoto
	maxDownloadBytes = 20 << 20 // getFile, platform server MAX_DOWNLOAD_FILE_SIZE
)

// file is a stored photo or document.
type file struct {
	id, path string
	data     []byte
	lost     bool // its path leads nowhere
}

// store keeps a file under a new id and path.
func (s *Server) store(data []byte, photo bool) *file {
	n := strconv.Itoa(len(s.files) + 1)
	f := &file{id: "file" + n, path: "documents/file_" + n, data: data}
	if photo {
		f.path = "photos/file_" + n + ".jpg"
	}
	s.files[f.id] = f
	return f
}

// sendPhoto posts a photo.
func (s *Server) sendPhoto(c *call) *apiError { return s.sendFile(c, "photo") }

// sendDocument posts a file.
func (s *Server) sendDocument(c *call) *apiError { return s.sendFile(c, "document") }

func (s *Server) sendFile(c *call, field string) *apiError {
	v, err := c.caption()
	if err != nil {
		return err
	}
	m := &Message{Version: v, Photo: field == "photo"}
	if m.File, m.FileName, err = s.incoming(c, field); err != nil {
		return err
	}
	return s.post(c, m)
}

// incoming finds the file of a call: a part under the field's name or one named by attach://, or a known
// file id. Addresses on the web are refused, since the stand-in reaches no network.
func (s *Server) incoming(c *call, field string) (id, name string, err *apiError) {
	value := c.text(field)
	wanted, attached := strings.CutPrefix(value, "attach://")
	if !attached {
		wanted = field
	}
	for _, p := range c.parts {
		if p.field == wanted {
			return s.upload(p, field == "photo")
		}
	}
	if value == "" {
		return "", "", badRequest("there is no " + field + " in the request")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.files[value] == nil {
		return "", "", badRequest("wrong file identifier/HTTP URL specified")
	}
	return value, value, nil
}

func (s *Server) upload(p part, photo bool) (id, name string, err *apiError) {
	switch {
	case len(p.data) == 0:
		return "", "", badRequest("file must be non-empty")
	case photo && len(p.data) > maxPhotoBytes:
		return "", "", badRequest("file is too big") // wording from memory
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.store(p.data, photo).id, p.name, nil
}

// getFile gives the path a file can be fetched from.
func (s *Server) getFile(c *call) *apiError {
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.files[strings.TrimSuffix(c.text("file_id"), "-s")]
	switch {
	case f == nil:
		return badRequest("wrong file_id or the file is temporarily unavailable")
	case len(f.data) > maxDownloadBytes:
		return badRequest("file is too big")
	}
	c.out = append(c.out, `{"file_id":`...)
	c.out = appendFileIDs(c.out, f)
	c.out = append(appendStringField(c.out, "file_path", f.path), '}')
	return nil
}

// serveFile answers /file/botTOKEN/PATH; rest begins after "bot".
func (s *Server) serveFile(w http.ResponseWriter, rest string) {
	token, path, _ := strings.Cut(rest, "/")
	if s.checkToken(token) != nil {
		http.Error(w, "Unauthorized", http.StatusUnauthorized)
		return
	}
	data, ok := s.fileAt(path)
	if !ok {
		http.Error(w, "Not Found", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "application/octet-stream")
	_, _ = w.Write(data) // a caller that hung up is no concern of the server
}

func (s *Server) fileAt(path string) ([]byte, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.files {
		if f.path == path && !f.lost {
			return f.data, true
		}
	}
	return nil, false
}

// LoseFiles makes every file stored so far gone for downloads, while getFile goes on naming its path.
func (s *Server) LoseFiles() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.files {
		f.lost = true
	}
}

// File gives the content of a stored file by its id, nil if there is none.
func (s *Server) File(id string) []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	if f := s.files[id]; f != nil {
		return f.data
	}
	return nil
}
