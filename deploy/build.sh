#!/bin/sh
# Builds static programs for the computers that a back room has, into the folder
# named (default: dist). Nothing but Go is needed.
set -eu
cd "$(dirname "$0")/.."
out=${1:-dist}
commit=$(git rev-parse --short=12 HEAD 2>/dev/null || echo unknown)
[ -z "$(git status --porcelain 2>/dev/null)" ] || commit=$commit+changes
mkdir -p "$out"
for target in linux/amd64 linux/arm64 linux/arm/7 darwin/arm64 windows/amd64; do
	os=${target%%/*}
	arch=${target#*/}
	arm=
	case $arch in */*) arm=${arch#*/} arch=${arch%/*} ;; esac
	name=$out/shopfloat-$os-$arch
	[ "$os" != windows ] || name=$name.exe
	CGO_ENABLED=0 GOOS=$os GOARCH=$arch GOARM=$arm go build -trimpath -buildvcs=false \
		-ldflags "-s -w -X main.commit=$commit" -o "$name" ./cmd/bot
	echo "$name $(wc -c <"$name") bytes"
done
