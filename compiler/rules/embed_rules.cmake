# cmake -DOUT=file.cpp -DFILES=a.rules;b.rules -P embed_rules.cmake: rule texts as one C++ source.
set(rows "")
foreach(file IN LISTS FILES)
  get_filename_component(name "${file}" NAME)
  file(READ "${file}" text)
  # One raw literal holds at most 64 KiB by the standard; rule files are far smaller.
  string(APPEND rows "    {\"grammar/rules/${name}\", R\"rules(${text})rules\"},\n")
endforeach()
file(WRITE "${OUT}.tmp" "// Made from grammar/rules by embed_rules.cmake.\n#include \"rules/embedded_rules.h\"\n\nnamespace relead::rules {\nnamespace {\nconstexpr EmbeddedText texts[] = {\n${rows}};\n}  // namespace\nstd::span<const EmbeddedText> embedded_rules() { return texts; }\n}  // namespace relead::rules\n")
file(RENAME "${OUT}.tmp" "${OUT}")
