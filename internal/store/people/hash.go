package people

import (
	"shopfloat/internal/shop"
	"shopfloat/internal/store/seal"
)

// SettingsHash covers every column of a version of the settings, and so by prev
// all versions before it.
func SettingsHash(id shop.ID, version, since int64, body, prev []byte) []byte {
	c := seal.New()
	c.Number(int64(id))
	c.Number(version)
	c.Number(since)
	c.Bytes(body)
	c.Bytes(prev)
	return c.Sum()
}
