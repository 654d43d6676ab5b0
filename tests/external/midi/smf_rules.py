"""The rules of the Standard MIDI File specification (MIDI Manufacturers Association, RP-001, "Standard MIDI Files
1.0", revised February 1996), read from the bytes without any library: faults(data) lists what breaks them.

Checked, with the section of the specification: chunk types and lengths, header of six bytes, format and number of
tracks (Chunk Descriptions, Header Chunks); variable-length quantities of at most four bytes (Conventions); status
and data bytes, running status cancelled by meta events (MTrk Event); end of track once, last (Meta-Events, 2F);
lengths and ranges of tempo, time signature and key signature (51, 58, 59); in format 1 tempo, time and key
signatures and markers in the first track, which names the sequence (Formats 0, 1 and 2; 03). Beyond the
specification, what a synthesizer needs: no hanging note, no key struck while it sounds, notes let go before others
begin at the same tick, programs before the first note of their channel, texts in UTF-8.
"""

TEXTS = range(0x01, 0x10)
FIRST_TRACK_ONLY = {0x06: "marker", 0x51: "tempo", 0x58: "time signature", 0x59: "key signature"}


class Fault(Exception):
    """The bytes cannot be read on."""


def quantity(data, at):
    value = 0
    for count in range(4):
        if at + count >= len(data):
            raise Fault("a variable-length quantity runs over the end")
        value = value << 7 | data[at + count] & 0x7F
        if data[at + count] < 0x80:
            return value, at + count + 1
    raise Fault("a variable-length quantity of more than four bytes")


def chunks(data):
    at = 0
    while at < len(data):
        if at + 8 > len(data):
            raise Fault("bytes after the last chunk")
        length = int.from_bytes(data[at + 4:at + 8], "big")
        if at + 8 + length > len(data):
            raise Fault("a chunk is longer than the file")
        yield data[at:at + 4], data[at + 8:at + 8 + length]
        at += 8 + length


def events(track):
    """(tick, status, data) of each event; for a meta event the status is 0xFF00 + its type."""
    at, tick, running = 0, 0, None
    while at < len(track):
        delta, at = quantity(track, at)
        tick += delta
        if at >= len(track):
            raise Fault("a delta time without an event")
        status = track[at]
        if status >= 0x80:
            at += 1
        elif running is None:
            raise Fault("a data byte where a status byte must stand")
        else:
            status = running
        if status == 0xFF or status in (0xF0, 0xF7):
            running = None
            kind = 0
            if status == 0xFF:
                kind, at = track[at], at + 1
            length, at = quantity(track, at)
            if at + length > len(track):
                raise Fault("an event is longer than its track")
            yield tick, (0xFF00 + kind if status == 0xFF else status), track[at:at + length]
            at += length
            continue
        if status > 0xEF:
            raise Fault(f"status byte {status:02X} does not belong in a file")
        running = status
        length = 1 if status >> 4 in (0xC, 0xD) else 2
        content = track[at:at + length]
        if len(content) < length or any(byte > 0x7F for byte in content):
            raise Fault("a data byte with its top bit set, or none")
        yield tick, status, content
        at += length


def meta_faults(kind, content):
    if kind == 0x51 and (len(content) != 3 or content == b"\0\0\0"):
        yield "a tempo that is not three bytes above zero"
    if kind == 0x58 and (len(content) != 4 or content[0] == 0 or content[1] > 6 or content[2] == 0 or content[3] != 8):
        yield "a time signature out of range"
    if kind == 0x59 and (len(content) != 2 or not -7 <= int.from_bytes(content[:1], "big", signed=True) <= 7 or content[1] > 1):
        yield "a key signature out of range"
    if kind in TEXTS:
        try:
            content.decode("utf-8")
        except UnicodeDecodeError:
            yield "a text that is not UTF-8"


def note_faults(tick, status, content, sounding, started):
    key = (status & 0x0F, content[0])
    if status >> 4 == 0x9 and content[1] > 0:
        if key in sounding:
            yield f"key {key[1]} is struck while it sounds, at {tick}"
        sounding[key] = tick
        started.add(tick)
    elif status >> 4 in (0x8, 0x9):
        if key not in sounding:
            yield f"key {key[1]} is let go but does not sound, at {tick}"
        elif sounding.pop(key) == tick:
            yield f"key {key[1]} lasts no time, at {tick}"
        if tick in started:
            yield f"a note is let go after another one begins, at {tick}"


def track_faults(index, track):
    sounding, started, played = {}, set(), set()
    ended = False
    first = True
    for tick, status, content in events(track):
        if ended:
            yield "an event after the end of the track"
        if status >= 0xFF00:
            kind = status & 0xFF
            if index == 0 and first and kind != 0x03:
                yield "the first track does not begin with its name"
            if index > 0 and kind in FIRST_TRACK_ONLY:
                yield f"a {FIRST_TRACK_ONLY[kind]} outside the first track"
            ended = kind == 0x2F
            if ended and content:
                yield "an end of track with content"
            yield from meta_faults(kind, content)
        elif status >> 4 == 0xC and status & 0x0F in played:
            yield "a program change after a note"
        elif status >> 4 in (0x8, 0x9):
            played.add(status & 0x0F)
            yield from note_faults(tick, status, content, sounding, started)
        first = False
    if not ended:
        yield "a track without its end"
    for channel, key in sounding:
        yield f"key {key} of channel {channel + 1} hangs"


def faults(data):
    found = []
    try:
        parts = list(chunks(data))
        if not parts or parts[0][0] != b"MThd" or len(parts[0][1]) != 6:
            return ["no header of six bytes"]
        header = parts[0][1]
        tracks = [content for kind, content in parts[1:] if kind == b"MTrk"]
        if len(tracks) != len(parts) - 1:
            found.append("a chunk that is no track")
        if header[:2] != b"\0\1":
            found.append("not format 1")
        if int.from_bytes(header[2:4], "big") != len(tracks):
            found.append("the header counts other tracks than there are")
        if int.from_bytes(header[4:], "big") in (0, *range(0x8000, 0x10000)):
            found.append("the division is not in ticks a quarter")
        for index, track in enumerate(tracks):
            found += [f"track {index}: {fault}" for fault in track_faults(index, track)]
    except Fault as fault:
        found.append(str(fault))
    return found


def damages(data):
    """(what was done, bytes): each breaks one rule, so that each rule is seen to fail."""
    end = data.rindex(b"\xFF\x2F\x00")
    tempo = data.index(b"\xFF\x51\x03")
    name = data.index(b"\xFF\x03")
    yield "format 2", data[:8] + b"\0\2" + data[10:]
    yield "one track more in the header", data[:11] + bytes([data[11] + 1]) + data[12:]
    yield "a frame rate for ticks", data[:12] + b"\xE8\x28" + data[14:]
    yield "a longer header", data[:7] + b"\7" + data[8:]
    yield "a track cut off", data[:-5]
    yield "the end of track made a text", data[:end + 1] + b"\x01" + data[end + 2:]
    yield "a tempo of nothing", data[:tempo + 3] + b"\0\0\0" + data[tempo + 6:]
    yield "a name that is no UTF-8", data[:name + 3] + b"\xFF" + data[name + 4:]
    yield "the name made a marker's place", data[:name + 1] + b"\x7F" + data[name + 2:]
    on = next(at for at in range(len(data) - 3) if data[at] == 0x91 and data[at + 1] < 0x80)
    yield "a note-off made a note-on", data[:data.index(b"\x81", on)] + b"\x91" + data[data.index(b"\x81", on) + 1:]
    yield "a data byte too large", data[:on + 1] + bytes([data[on + 1] | 0x80]) + data[on + 2:]
