// Package telegram connects the desk with Telegram chats.
//
// What comes in is stored and stepped before the bot library sees it, so that
// the server is never told to forget an update that has not taken effect. What
// goes out is sent one call at a time for the desk's outbox, which needs to
// know exactly how a call went; the library does not say.
//
// The bot token is part of every address. No error of this package holds an
// address, and texts of the server are searched for the token before use.
package telegram
