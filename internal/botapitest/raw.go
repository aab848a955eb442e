package botapitest

// InjectRaw queues an update of any kind with ready-made JSON, even of a kind the bot did not ask for, and
// gives its id, 0 if it was too large. {"update_id":N,"KIND":PAYLOAD} is what the bot gets.
func (s *Server) InjectRaw(kind, payload string) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.queue.force(s, kind, []byte(payload), messageLife)
}

// InjectUnknownKind queues an update of a kind no library knows yet.
func (s *Server) InjectUnknownKind() int64 { return s.InjectRaw("moon_phase", `{"phase":"waning"}`) }

// InjectUnknownSubtype queues a message whose paid media has a type the library cannot decode
// (FACTS.md D1, 7), sent by a person in private.
func (s *Server) InjectUnknownSubtype(user int64) int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := s.enter(user, user)
	m := s.place(c, &Message{From: user})
	b := appendMessageHead(nil, s, c, m)
	b = append(b, `,"paid_media":{"star_count":1,"paid_media":[{"type":"live_photo"}]}}`...)
	return s.queue.force(s, "message", b, messageLife)
}
