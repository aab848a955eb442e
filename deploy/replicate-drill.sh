#!/bin/sh
# A drill of replication: a bot at work, Litestream beside it with a file replica,
# kill -9 of both, restore "on another computer". Prints how many records were
# lost, and how long coming back took. It is no part of the checks: Litestream
# (v0.5.18) is a program of its own, which must be in the path:
#
#   go install github.com/benbjohnson/litestream/cmd/litestream@v0.5.18
#
# Usage: deploy/replicate-drill.sh [SECONDS [SHOPS_AT_ONCE [SHOPS [THINK]]]]
# An hour at the pace of people: deploy/replicate-drill.sh 3600 1 4000 250ms
set -eu
cd "$(dirname "$0")/.."
seconds=${1:-20} at_once=${2:-20} shops=${3:-3000} think=${4:-0s}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
go build -buildvcs=false -o "$work/bot" ./cmd/bot
go build -buildvcs=false -o "$work/load" ./internal/bench/load
mkdir "$work/here" "$work/there" "$work/replica"

# People who open their shops as fast as the bot answers, or think before each answer.
"$work/load" -n "$at_once" -shops "$shops" -idle 0 -think "$think" -seed "$work/bot" -dir "$work/here" \
	"$work/bot" serve --rate 0 --log-level warn >"$work/load.log" 2>&1 &
load=$!
db=
for _ in $(seq 300); do
	db=$(find "$work/here" -name shop.db.mark | sed 's/\.mark$//')
	bot=$(pgrep -P $load -f ' serve ' || true)
	[ -z "$db" ] || [ -z "$bot" ] || break
	sleep 1
done

# A checkpoint now and then keeps the log small; the bot waits 5 s for locks and
# never waits for a checkpoint of its own.
cat >"$work/litestream.yml" <<YML
dbs:
  - path: $db
    replica:
      type: file
      path: $work/replica
      sync-interval: 1s
YML
litestream replicate -config "$work/litestream.yml" >"$work/litestream.log" 2>&1 &
replicator=$!
for _ in $(seq "$seconds"); do
	sleep 1
	if grep -q "writing was stopped" "$work/load.log"; then
		echo "the bot took the replicator for an accident:" && cat "$work/load.log" && exit 1
	fi
	kill -0 $bot $load $replicator 2>/dev/null && continue
	echo "something ended too early; where it is the shops, name more of them:"
	cat "$work/load.log" "$work/litestream.log"
	exit 1
done
kill -9 $load $bot $replicator
wait 2>/dev/null || true

count() { "$work/bot" verify --db "$1" | sed -n 's/.*entries \([0-9]*\),.*/\1/p' | awk '{n += $1} END {print n + 0}'; }
before=$(count "$db")
began=$(date +%s%N)
litestream restore -config "$work/litestream.yml" -o "$work/there/raw.db" "$db" >>"$work/litestream.log" 2>&1
"$work/bot" restore "$work/there/raw.db" --db "$work/there/shop.db" | head -1
took=$((($(date +%s%N) - began) / 1000000))
after=$(count "$work/there/shop.db")
echo "records confirmed before the kill: $before; restored: $after; lost: $((before - after)); back after $took ms"
