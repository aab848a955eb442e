
// The first look waits for the chat server: until then people wait for the first poll.
func TestFirstLookWaitsForTheLine(t *testing.T) {
	db, _ := opened(t)
	online := make(chan struct{})
	n := &proving.Night{Reader: db.Reader(), Log: slog.New(slog.NewTextHandler(io.Discard, nil)), Now: time.Now,
		Online: online}
	offline, stop := context.WithTimeout(ctx, 50*time.Millisecond)
	defer stop()
	ok(t, n.Run(offline))
	if n.Proved(1) != nil {
		t.Error("the file was looked at before the chat server was reached")
	}
	close(online)
	running, end := context.WithCancel(ctx)
	done := make(chan error)
	go func() { done <- n.Run(running) }()
	for n.Proved(1) == nil {
		time.Sleep(time.Millisecond)
	}
	end()
	ok(t, <-done)
}
