#include "formats/musicxml/mxl.h"

#include <memory>
#include <zip.h>

#include "formats/musicxml/document.h"

namespace relead::formats {

namespace {

constexpr std::string_view media_type = "application/vnd.recordare.musicxml";

std::string container(std::string_view inner_name) {
    Document document("");
    {
        const Nest root(document, "container");
        const Nest files(document, "rootfiles");
        const Nest file(document, "rootfile");
        document.attribute("full-path", inner_name);
        document.attribute("media-type", std::string(media_type) + "+xml");
    }
    return document.print();
}

struct DiscardArchive {
    void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct FreeSource {
    void operator()(zip_source_t* source) const { zip_source_free(source); }
};
using Archive = std::unique_ptr<zip_t, DiscardArchive>;
using Buffer = std::unique_ptr<zip_source_t, FreeSource>;

/// Adds one entry; `bytes` must live until the archive is closed.
bool add(zip_t* archive, const std::string& name, std::string_view bytes, bool stored) {
    zip_source_t* source = zip_source_buffer(archive, bytes.data(), bytes.size(), 0);
    if (source == nullptr) return false;
    const auto index = zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
        zip_source_free(source);
        return false;
    }
    const auto entry = static_cast<zip_uint64_t>(index);
    const auto method = stored ? ZIP_CM_STORE : ZIP_CM_DEFLATE;
    // 1 January 1980, the earliest date a zip file can hold: bytes must not depend on the clock.
    constexpr zip_uint16_t earliest_date = (1U << 5U) | 1U;
    return zip_set_file_compression(archive, entry, method, 9) == 0 &&
           zip_file_set_dostime(archive, entry, 0, earliest_date, 0) == 0;
}

std::optional<std::string> read_all(zip_source_t* buffer) {
    if (zip_source_open(buffer) != 0) return std::nullopt;
    zip_stat_t stat;
    std::string bytes;
    bool read = zip_source_stat(buffer, &stat) == 0;
    if (read) {
        bytes.resize(static_cast<std::size_t>(stat.size));
        read = zip_source_read(buffer, bytes.data(), bytes.size()) == static_cast<zip_int64_t>(bytes.size());
    }
    zip_source_close(buffer);
    if (!read) return std::nullopt;
    return bytes;
}

std::optional<std::string> pack(std::string_view inner_name, std::string_view document) {
    zip_error_t error;
    zip_error_init(&error);
    const Buffer buffer(zip_source_buffer_create(nullptr, 0, 0, &error));
    if (!buffer) return std::nullopt;
    zip_source_keep(buffer.get());  // the archive takes one reference, we keep one
    Archive archive(zip_open_from_source(buffer.get(), ZIP_TRUNCATE, &error));
    if (!archive) {
        zip_source_free(buffer.get());
        return std::nullopt;
    }
    const std::string listing = container(inner_name);
    const bool added = add(archive.get(), "mimetype", media_type, true) &&
                       add(archive.get(), "META-INF/container.xml", listing, false) &&
                       add(archive.get(), std::string(inner_name), document, false);
    if (!added || zip_close(archive.get()) != 0) return std::nullopt;
    static_cast<void>(archive.release());  // closed
    return read_all(buffer.get());
}

}  // namespace

Outcome<std::string> pack_mxl(std::string_view inner_name, std::string_view document) {
    Outcome<std::string> outcome;
    outcome.value = pack(inner_name, document);
    if (!outcome.value) {
        Diagnostic problem;
        problem.code = "io-archive";
        problem.sentence = "The compressed MusicXML file could not be packed.";
        outcome.diagnostics.push_back(problem);
    }
    return outcome;
}

}  // namespace relead::formats
