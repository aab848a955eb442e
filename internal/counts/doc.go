// Package counts reads the ways people type counts of banknotes in a chat.
package counts
