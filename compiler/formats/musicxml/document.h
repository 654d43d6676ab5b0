// A Sink that builds an XML document in memory and prints it.
#pragma once

#include <memory>
#include <string>

#include "formats/musicxml/sink.h"

namespace relead::formats {

class Document final : public Sink {
public:
    /// `doctype` is the text between "<!DOCTYPE " and ">"; empty = none.
    explicit Document(std::string_view doctype);
    ~Document() override;

    void begin(std::string_view element) override;
    void attribute(std::string_view name, std::string_view value) override;
    void text(std::string_view characters) override;
    void end() override;

    /// The whole document with its XML declaration, indented by two spaces.
    [[nodiscard]] std::string print() const;

private:
    struct Tree;
    std::unique_ptr<Tree> tree_;
};

}  // namespace relead::formats
