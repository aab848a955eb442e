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
// Time never runs by itself: retention, expiry and dates follow the clock set with [Server.SetNow]. Only the
// wait of a long poll uses a timer, which [Options.After] replaces.
package botapitest
