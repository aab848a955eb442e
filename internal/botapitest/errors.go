package botapitest

import (
	"net/http"
	"strconv"
)

// apiError is an answer with ok:false. The HTTP status equals code.
type apiError struct {
	code       int
	text       string
	retryAfter int   // seconds, for 429
	migratedTo int64 // new chat id, for a group that became a supergroup
}

// Answers that carry no figures. Texts: the platform server's sources, FACTS.md B.
var (
	errAnswered     = &apiError{} // never sent: the answer is written already
	errNotFound     = &apiError{code: 404, text: "Not Found"}
	errNoMethod     = &apiError{code: 404, text: "Not Found: method not found"}
	errUnauthorized = &apiError{code: 401, text: "Unauthorized"}
	errBadToken     = &apiError{code: 401, text: "Unauthorized: invalid token specified"}
	errTooLarge     = &apiError{code: 413, text: "Request Entity Too Large"}
	errRestart      = &apiError{code: 500, text: "Internal Server Error: restart"}

	errOtherPoll = &apiError{code: 409, text: "Conflict: terminated by other getUpdates request; " +
		"make sure that only one bot instance is running"}
	errWebhookActive = &apiError{code: 409,
		text: "Conflict: can't use getUpdates method while webhook is active; " +
			"use deleteWebhook to delete the webhook first"}
	errSetWebhook = &apiError{code: 409, text: "Conflict: terminated by setWebhook request"}

	errNotModified = badRequest("message is not modified: specified new message content and reply markup " +
		"are exactly the same as a current content and reply markup of the message")
	errQueryOld = badRequest("query is too old and response timeout expired or query ID is invalid")
)

func badRequest(text string) *apiError { return &apiError{code: 400, text: "Bad Request: " + text} }

func forbidden(text string) *apiError { return &apiError{code: 403, text: "Forbidden: " + text} }

func tooMany(seconds int) *apiError {
	text := "Too Many Requests: retry after " + strconv.Itoa(seconds)
	return &apiError{code: 429, text: text, retryAfter: seconds}
}

// write sends the envelope: the result in c.out, or err.
func (c *call) write(w http.ResponseWriter, err *apiError) {
	w.Header()["Content-Type"] = jsonType
	if err == nil {
		c.answer = append(c.answer, `{"ok":true,"result":`...)
		c.answer = append(append(c.answer, c.out...), '}')
		_, _ = w.Write(c.answer) // a caller that hung up is no concern of the server
		return
	}
	c.srv.noteError(err)
	if err.retryAfter > 0 {
		w.Header().Set("Retry-After", strconv.Itoa(err.retryAfter))
	}
	w.WriteHeader(err.code)
	c.answer = appendError(c.answer, err)
	_, _ = w.Write(c.answer)
}

var jsonType = []string{"application/json"}

func appendError(b []byte, err *apiError) []byte {
	b = append(b, `{"ok":false,"error_code":`...)
	b = strconv.AppendInt(b, int64(err.code), 10)
	b = append(b, `,"description":`...)
	b = appendString(b, err.text)
	switch {
	case err.retryAfter > 0:
		b = append(b, `,"parameters":{"retry_after":`...)
		b = append(strconv.AppendInt(b, int64(err.retryAfter), 10), '}')
	case err.migratedTo != 0:
		b = append(b, `,"parameters":{"migrate_to_chat_id":`...)
		b = append(strconv.AppendInt(b, err.migratedTo, 10), '}')
	}
	return append(b, '}')
}
