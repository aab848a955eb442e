#!/bin/sh
# Bot, naive bot and the fair one in turn, with N shops at once on one core. It prints a line a run:
# updates/s, CPU of the bot and of the stand-in in us an update, p99 in ms, memory at most in MB, the
# fsync probe before and after, and the share of the core that others used. What others used more than
# 0.15 of does not count. With a faster disk or slower processor only the ratios say something.
#
# Usage: internal/bench/turn.sh [ROUNDS [N [SHOPS [CORE]]]]
set -eu
cd "$(dirname "$0")/../.."
rounds=${1:-3} n=${2:-200} shops=${3:-800} core=${4:-1}
work=$(mktemp -d -p "${TMPDIR:-/var/tmp}") # on a disk: where fsync costs nothing the naive bot gains most
trap 'rm -rf "$work"' EXIT INT TERM
export CGO_ENABLED=0
go build -buildvcs=false -trimpath -ldflags="-s -w" -o "$work/bot" ./cmd/bot
go build -buildvcs=false -trimpath -ldflags="-s -w" -o "$work/naive" ./internal/bench/naive
go build -buildvcs=false -trimpath -o "$work/load" ./internal/bench/load
run() {
	name=$1 && shift
	taskset -c "$core" "$work/load" -n "$n" -shops "$shops" -dir "$work" -seed "$work/bot" "$@" >"$work/out" 2>&1 ||
		echo "$name failed: $(tail -1 "$work/out")"
	awk -v name="$name" '
		/^updates\/s/ {rate = $2} /^bot CPU/ {cpu = $3} /^stand-in CPU/ {self = $3} /^answer/ {p99 = $7}
		/^memory/ {most = $5} /^fsync probe/ {probe = $3 " " $5} /^others/ {others = $5}
		END {printf "%-6s %5.0f/s  cpu %4d + %3d  p99 %6.1f  memory %5.1f  probe %s  others %s\n",
			name, rate, cpu, self, p99, most, probe, others}' "$work/out"
}
for _ in $(seq "$rounds"); do
	run bot "$work/bot" serve --rate 0 --log-level warn
	run naive "$work/naive"
	run fair "$work/naive" -fair
done
