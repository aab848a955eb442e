// Package terminal is the adapter for a chat in the terminal: it reads what
// people type or what a script says, hands it to the desk, and prints what
// comes back. It knows the people's phones, so that a tap finds its button,
// and nothing of any dialog.
package terminal
