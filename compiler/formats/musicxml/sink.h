// Where the writer puts its elements. The writer knows only this interface; the library that
// builds the document stands behind it in one .cpp.
#pragma once

#include <string>
#include <string_view>

namespace relead::formats {

class Sink {
public:
    virtual ~Sink() = default;
    virtual void begin(std::string_view element) = 0;
    /// Only between begin and the first child or text of that element.
    virtual void attribute(std::string_view name, std::string_view value) = 0;
    /// UTF-8; characters that XML 1.0 forbids are left out.
    virtual void text(std::string_view characters) = 0;
    virtual void end() = 0;
};

/// An element that is open as long as the object lives.
class Nest {
public:
    Nest(Sink& sink, std::string_view element) : sink_(sink) { sink_.begin(element); }
    ~Nest() { sink_.end(); }
    Nest(const Nest&) = delete;
    Nest& operator=(const Nest&) = delete;

private:
    Sink& sink_;
};

/// <element>content</element>
inline void leaf(Sink& sink, std::string_view element, std::string_view content) {
    const Nest nest(sink, element);
    if (!content.empty()) sink.text(content);
}
inline void leaf(Sink& sink, std::string_view element, int content) {
    leaf(sink, element, std::to_string(content));
}
/// <element/>
inline void flag(Sink& sink, std::string_view element) {
    const Nest nest(sink, element);
}
/// <element type="value"/>
inline void typed(Sink& sink, std::string_view element, std::string_view type) {
    const Nest nest(sink, element);
    sink.attribute("type", type);
}

}  // namespace relead::formats
