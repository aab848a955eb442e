// Package botapitest is a strict local stand-in for the chat platform's Bot API.
//
// Tests and load programs point a bot at it instead of at the hosted service; the shipped bot never imports
// it. It answers over HTTP on the loopback address, keeps what every chat would show, hands out updates
// under the platform's own queue rules, and refuses whatever the platform refuses, with the platform's
// error texts.
//
// Rules come from the Bot API reference 10.1 (11 June 2026) and from the published sources of the
// platform's own server (July 2026). Where neither says anything the comment beside the rule says "from
// memory" or names the choice made.
//
// FACTS.md in the comments is the project's fact sheet on the platform: A limits, B errors, C conventions,
// D the client library, E what this stand-in must accept, enforce, inject and count.
//
// Three choices are stricter than the platform on purpose, so that a careless bot fails here first:
// message ids are numbered per chat in every kind of chat, a second answer to one callback query is an error,
// and parse modes other than HTML are refused.
//
// It is large, some 3,400 lines, and stays so. It is a model of somebody else's program, and what a bot may
// be refused for is spread over all of it: the reference's limits of each method (methods, params, request),
// the marks of formatted text with their offsets in UTF-16 (html, htmlattr, text), keyboards and buttons,
// queues of updates with their own times (queue, poll, wait), what the platform writes back (jsonout,
// jsonmessage), and the faults it is made to have (inject). A smaller one would take a message that the
// platform refuses, and the first to hear of it would be a shop. Nothing here is shared with the bot: a rule
// that both sides took from one place could be wrong on both. The parts know one another by the server's
// lock and its chats alone, so parting it into packages would only make those public.
//
// Time never runs by itself: retention, expiry and dates follow the clock set with [Server.SetNow]. Only the
// wait of a long poll uses a timer, which [Options.After] replaces.
package botapitest
