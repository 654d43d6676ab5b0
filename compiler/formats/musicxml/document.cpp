#include "formats/musicxml/document.h"

#include <pugixml.hpp>
#include <vector>

namespace relead::formats {

namespace {

/// XML 1.0 allows no control character but tab, line feed and carriage return.
std::string without_controls(std::string_view characters) {
    std::string clean;
    clean.reserve(characters.size());
    for (const char c : characters) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x20 || c == '\t' || c == '\n' || c == '\r') clean.push_back(c);
    }
    return clean;
}

struct StringWriter final : pugi::xml_writer {
    std::string bytes;
    void write(const void* data, std::size_t size) override {
        bytes.append(static_cast<const char*>(data), size);
    }
};

}  // namespace

struct Document::Tree {
    pugi::xml_document document;
    std::vector<pugi::xml_node> open;
};

Document::Document(std::string_view doctype) : tree_(std::make_unique<Tree>()) {
    auto declaration = tree_->document.append_child(pugi::node_declaration);
    declaration.append_attribute("version") = "1.0";
    declaration.append_attribute("encoding") = "UTF-8";
    declaration.append_attribute("standalone") = "no";
    if (!doctype.empty()) {
        tree_->document.append_child(pugi::node_doctype).set_value(std::string(doctype).c_str());
    }
    tree_->open.push_back(tree_->document);
}

Document::~Document() = default;

void Document::begin(std::string_view element) {
    tree_->open.push_back(tree_->open.back().append_child(std::string(element).c_str()));
}

void Document::attribute(std::string_view name, std::string_view value) {
    tree_->open.back().append_attribute(std::string(name).c_str()) = without_controls(value).c_str();
}

void Document::text(std::string_view characters) {
    tree_->open.back().append_child(pugi::node_pcdata).set_value(without_controls(characters).c_str());
}

void Document::end() {
    tree_->open.pop_back();
}

std::string Document::print() const {
    StringWriter writer;
    tree_->document.save(writer, "  ", pugi::format_indent, pugi::encoding_utf8);
    return std::move(writer.bytes);
}

}  // namespace relead::formats
