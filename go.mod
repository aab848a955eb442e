module shopfloat

go 1.26.0

require (
	github.com/BurntSushi/toml v1.6.0
	github.com/VictoriaMetrics/metrics v1.45.0
	github.com/alexflint/go-arg v1.6.1
	github.com/bojanz/currency v1.4.2
	github.com/go-analyze/charts v0.5.10
	github.com/go-pdf/fpdf v0.9.0
	github.com/go-telegram/bot v1.19.0
	github.com/mtibben/confusables v0.0.0-20210201002637-9d1b0723b659
	github.com/robfig/cron/v3 v3.0.1
	github.com/shopspring/decimal v1.6.0
	github.com/thedatashed/xlsxreader v1.2.8
	github.com/xuri/excelize/v2 v2.9.0 // no later one: see The size of the program in internal/bench/FIGURES.md
	golang.org/x/image v0.45.0
	golang.org/x/sys v0.50.0
	golang.org/x/text v0.44.0
	modernc.org/libc v1.80.1
	modernc.org/sqlite v1.62.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/alexflint/go-scalar v1.2.0 // indirect
	github.com/cockroachdb/apd/v3 v3.2.1 // indirect
	github.com/dustin/go-humanize v1.1.0 // indirect
	github.com/golang/freetype v0.0.0-20170609003504-e2365dfdc4a0 // indirect
	github.com/google/uuid v1.6.0 // indirect
	github.com/mattn/go-isatty v0.0.24 // indirect
	github.com/mohae/deepcopy v0.0.0-20170929034955-c48cc78d4826 // indirect
	github.com/ncruces/go-strftime v1.1.0 // indirect
	github.com/remyoudompheng/bigfft v0.0.0-20230129092748-24d4a6f8daec // indirect
	github.com/richardlehane/mscfb v1.0.9 // indirect
	github.com/richardlehane/msoleps v1.0.6 // indirect
	github.com/stretchr/testify v1.12.1 // indirect
	github.com/valyala/fastrand v1.1.0 // indirect
	github.com/valyala/histogram v1.2.0 // indirect
	github.com/xuri/efp v0.0.3-0.20260924042702-217b81952dec // indirect
	github.com/xuri/nfp v0.0.2-0.20250530014748-2ddeb826f9a9 // indirect
	golang.org/x/crypto v0.58.0 // indirect
	golang.org/x/net v0.62.0 // indirect
	modernc.org/mathutil v1.7.1 // indirect
	modernc.org/memory v1.12.1 // indirect
)
