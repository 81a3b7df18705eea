# Writes NAME_data.hpp and NAME_data.cpp into OUT: one function a file that returns its bytes.
# cmake -DNAME=geometry "-DFILES=a.json;b.ttf" -DOUT=dir -P embed.cmake
set(header "#pragma once\n#include <string_view>\nnamespace rimload::data {\n")
set(source "#include \"${NAME}_data.hpp\"\nnamespace rimload::data {\n")
foreach(file IN LISTS FILES)
  get_filename_component(function ${file} NAME)
  string(MAKE_C_IDENTIFIER "${function}" function)
  file(READ ${file} hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND header "[[nodiscard]] std::string_view ${function}();\n")
  string(APPEND source "static constexpr unsigned char ${function}_bytes[] = {${bytes}0};\n"
    "std::string_view ${function}() {\n"
    "  return {reinterpret_cast<const char*>(${function}_bytes), sizeof(${function}_bytes) - 1};\n}\n")
endforeach()
file(MAKE_DIRECTORY ${OUT})
file(WRITE ${OUT}/${NAME}_data.hpp "${header}}  // namespace rimload::data\n")
file(WRITE ${OUT}/${NAME}_data.cpp "${source}}  // namespace rimload::data\n")
