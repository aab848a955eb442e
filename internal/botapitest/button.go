package botapitest

import (
	"encoding/json"
	"unicode/utf8"
)

type buttonJSON struct {
	Text     *string   `json:"text"`
	Style    string    `json:"style"`
	URL      string    `json:"url"`
	Data     *string   `json:"callback_data"`
	CopyText *copyJSON `json:"copy_text"`

	Game    json.RawMessage `json:"callback_game"`
	Pay     bool            `json:"pay"`
	Query   *string         `json:"switch_inline_query"`
	Current *string         `json:"switch_inline_query_current_chat"`
	Chosen  json.RawMessage `json:"switch_inline_query_chosen_chat"`
	Login   json.RawMessage `json:"login_url"`
	WebApp  json.RawMessage `json:"web_app"`
}

type copyJSON struct {
	Text string `json:"text"`
}

var errNoAction = buttonError("Text buttons are unallowed in the inline keyboard")

func buttonError(text string) *apiError {
	return badRequest("can't parse inline keyboard button: " + text)
}

// button finds the one action of a button. The order in which actions are looked at is the platform's (from
// memory), copy_text last: the library sends an empty one beside every real action.
func (in *buttonJSON) button() (Button, *apiError) {
	if in.Text == nil {
		return Button{}, buttonError(`Field "text" must be of type String`)
	}
	b := Button{Text: *in.Text, Style: in.Style}
	switch in.Style {
	case "", "danger", "success", "primary":
	default:
		return b, buttonError("invalid button style specified") // wording from memory
	}
	switch {
	case in.URL != "":
		if b.URL = checkLink(in.URL); b.URL == "" {
			// The platform adds a reason after these words.
			return b, badRequest("inline keyboard button URL '" + in.URL + "' is invalid")
		}
	case in.Data != nil:
		if b.Data = *in.Data; b.Data == "" || len(b.Data) > maxDataBytes {
			return b, badRequest("BUTTON_DATA_INVALID")
		}
	default:
		if b.Other = in.other(); b.Other == "" {
			return b, in.copyText(&b)
		}
	}
	return b, nil
}

func (in *buttonJSON) other() string {
	switch {
	case in.Game != nil:
		return "callback_game"
	case in.Pay:
		return "pay"
	case in.Query != nil:
		return "switch_inline_query"
	case in.Current != nil:
		return "switch_inline_query_current_chat"
	case in.Chosen != nil:
		return "switch_inline_query_chosen_chat"
	case in.Login != nil:
		return "login_url"
	case in.WebApp != nil:
		return "web_app"
	}
	return ""
}

func (in *buttonJSON) copyText(b *Button) *apiError {
	if in.CopyText == nil || in.CopyText.Text == "" {
		return errNoAction
	}
	if utf8.RuneCountInString(in.CopyText.Text) > maxCopyText {
		return badRequest("BUTTON_COPY_TEXT_INVALID") // from memory
	}
	b.CopyText = in.CopyText.Text
	return nil
}
