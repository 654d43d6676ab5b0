# cmake -DOUT=file.cpp -DCSS=page.css -DJS=a.js,b.js -P page_parts.cmake: the page's style and its scripts, in this
# order in one scope of their own, as C++ text, with the hashes by which the page's content-security policy lets
# exactly these through.

# hash_of(VARIABLE TEXT): SHA-256 of TEXT in base64.
function(hash_of variable text)
  string(SHA256 hex "${text}")
  set(alphabet "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/")
  set(out "")
  # 64 hexadecimal digits and two zeros to fill up: 22 groups of three digits are two letters each.
  foreach(group RANGE 0 21)
    math(EXPR at "${group} * 3")
    string(SUBSTRING "${hex}00" ${at} 3 digits)
    math(EXPR value "0x${digits}")
    math(EXPR high "${value} >> 6")
    math(EXPR low "${value} & 63")
    string(SUBSTRING "${alphabet}" ${high} 1 letter_high)
    string(SUBSTRING "${alphabet}" ${low} 1 letter_low)
    string(APPEND out "${letter_high}${letter_low}")
  endforeach()
  # 32 bytes are 43 letters and one sign that fills up.
  string(SUBSTRING "${out}" 0 43 out)
  set(${variable} "${out}=" PARENT_SCOPE)
endfunction()

# literal(VARIABLE TEXT): raw literals of at most 12,000 characters each, side by side.
function(literal variable text)
  string(LENGTH "${text}" length)
  set(out "")
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${text}" ${at} 12000 piece)
    string(APPEND out "    R\"page(${piece})page\"\n")
    math(EXPR at "${at} + 12000")
  endwhile()
  set(${variable} "${out}" PARENT_SCOPE)
endfunction()

file(READ "${CSS}" css)
string(REPLACE "," ";" scripts "${JS}")
set(js "'use strict';\n(() => {\n")
foreach(script IN LISTS scripts)
  file(READ "${script}" text)
  string(APPEND js "${text}")
endforeach()
string(APPEND js "})();\n")
hash_of(css_hash "${css}")
hash_of(js_hash "${js}")
literal(css_text "${css}")
literal(js_text "${js}")
file(WRITE "${OUT}.tmp" "// Made from page.css and page_*.js by page_parts.cmake.
#include \"formats/html/page_parts.h\"

namespace relead::formats::html {
std::string_view page_style() {
    return
${css_text}    ;
}
std::string_view page_script() {
    return
${js_text}    ;
}
std::string_view style_hash() { return \"${css_hash}\"; }
std::string_view script_hash() { return \"${js_hash}\"; }
}  // namespace relead::formats::html
")
file(RENAME "${OUT}.tmp" "${OUT}")
