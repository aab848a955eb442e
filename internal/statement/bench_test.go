package statement_test

import (
	"bytes"
	"fmt"
	"testing"

	"shopfloat/internal/statement"
)

// fifty makes a file of the largest size that is read: a head, lines, a foot.
func fifty(head, foot string, line func(i int) string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i := 1; b.Len() < statement.MaxSize-2_000; i++ {
		b.WriteString(line(i))
	}
	b.WriteString(foot)
	return b.Bytes()
}

// BenchmarkFiftyMegabytes reads the largest files. A line after the other is handed
// over, so what it takes of memory does not grow with the file: -benchmem counts all
// that was ever asked for.
func BenchmarkFiftyMegabytes(b *testing.B) {
	files := map[string][]byte{
		"camt053": fifty(`<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.08"><BkToCstmrStmt><Stmt>`+
			`<Id>S</Id><Acct><Id><IBAN>IE29AIBK93115212345678</IBAN></Id><Ccy>EUR</Ccy></Acct>`,
			`</Stmt></BkToCstmrStmt></Document>`, func(i int) string {
				return fmt.Sprintf(`<Ntry><Amt Ccy="EUR">%d.%02d</Amt><CdtDbtInd>CRDT</CdtDbtInd>`+
					`<Sts><Cd>BOOK</Cd></Sts><BookgDt><Dt>2026-11-%02d</Dt></BookgDt>`+
					`<AcctSvcrRef>B-%d</AcctSvcrRef><NtryDtls><TxDtls><RltdPties><Dbtr><Pty><Nm>Customer %d</Nm>`+
					`</Pty></Dbtr></RltdPties><RmtInf><Ustrd>Invoice %d</Ustrd></RmtInf></TxDtls></NtryDtls></Ntry>`,
					i%9000, i%100, i%28+1, i, i, i)
			}),
		"csv": fifty("Date;Text;Amount\n", "", func(i int) string {
			return fmt.Sprintf("2026-11-%02d;Customer number %d;%d.%02d\n", i%28+1, i, i%9000, i%100)
		}),
	}
	for name, data := range files {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				lines := 0
				_, err := statement.Read(bytes.NewReader(data), int64(len(data)), statement.Options{},
					func(statement.Line) error { lines++; return nil })
				if err != nil || lines < 100_000 {
					b.Fatalf("%d lines, %v", lines, err)
				}
			}
		})
	}
}
