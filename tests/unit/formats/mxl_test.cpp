// compiler/formats/musicxml/mxl.h. The container: W3C MusicXML 4.0, "Compressed .MXL files".
#include "formats/musicxml/mxl.h"

#include <zip.h>

#include "support/catch.h"

using namespace relead;

namespace {

std::string entry(const std::string& archive, const char* name) {
    zip_error_t error;
    auto* source = zip_source_buffer_create(archive.data(), archive.size(), 0, &error);
    auto* zip = zip_open_from_source(source, ZIP_RDONLY, &error);
    REQUIRE(zip != nullptr);
    std::string bytes;
    if (auto* file = zip_fopen(zip, name, 0)) {
        char buffer[4096];
        for (zip_int64_t n; (n = zip_fread(file, buffer, sizeof buffer)) > 0;)
            bytes.append(buffer, static_cast<std::size_t>(n));
        zip_fclose(file);
    }
    zip_discard(zip);
    return bytes;
}

}  // namespace

TEST_CASE("the first entry is the media type, stored, without extra field or line feed") {
    const auto packed = formats::pack_mxl("tune.musicxml", "<score-partwise/>");
    REQUIRE(packed.clean());
    const auto& bytes = *packed.value;
    const std::string media = "application/vnd.recordare.musicxml";
    CHECK(bytes.substr(0, 4) == "PK\x03\x04");
    CHECK(bytes.substr(8, 2) == std::string(2, '\0'));   // method: stored
    CHECK(bytes.substr(28, 2) == std::string(2, '\0'));  // no extra field
    CHECK(bytes.substr(30, 8) == "mimetype");
    CHECK(bytes.substr(38, media.size()) == media);
    CHECK(entry(bytes, "mimetype") == media);
}

TEST_CASE("the container names the score, which comes out as it went in") {
    const std::string document(20000, 'x');
    const auto packed = formats::pack_mxl("f\u00e4hre.musicxml", document);
    REQUIRE(packed.clean());
    CHECK(entry(*packed.value, "f\u00e4hre.musicxml") == document);
    CHECK(entry(*packed.value, "META-INF/container.xml").find("full-path=\"f\u00e4hre.musicxml\"") !=
          std::string::npos);
    CHECK(packed.value->size() < 2000);
    CHECK(*packed.value == *formats::pack_mxl("f\u00e4hre.musicxml", document).value);
}
