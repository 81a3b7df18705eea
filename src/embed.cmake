# Writes NAME_data.hpp and NAME_data.cpp into OUT: a function that returns its bytes for each file of
# DATA, and one function NAME_table() whose rows are the files of TABLE by their path below ROOT.
# DATA may also be absolute paths.
# cmake -DNAME=case -DROOT=dir "-DDATA=a.json;b.ttf" "-DTABLE=c/x.json;d/x.json" -DOUT=dir -P embed.cmake
set(header "#pragma once\n#include <string_view>\n")
set(source "#include \"${NAME}_data.hpp\"\n#include <array>\nnamespace rimload::data {\n")
set(rows)
set(n_rows 0)
if(TABLE)
  string(APPEND header "#include <span>\n#include <utility>\n")
endif()
string(APPEND header "namespace rimload::data {\n")
foreach(file IN LISTS DATA TABLE)
  list(FIND TABLE "${file}" row)
  if(row EQUAL -1)
    get_filename_component(function ${file} NAME)
    string(MAKE_C_IDENTIFIER "${function}" function)
    string(APPEND header "[[nodiscard]] std::string_view ${function}();\n")
  else()
    string(MAKE_C_IDENTIFIER "${file}" function)
  endif()
  cmake_path(ABSOLUTE_PATH file BASE_DIRECTORY ${ROOT} OUTPUT_VARIABLE path)
  file(READ ${path} hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND source "static constexpr unsigned char ${function}_bytes[] = {${bytes}0};\n")
  set(view "{reinterpret_cast<const char*>(${function}_bytes), sizeof(${function}_bytes) - 1}")
  if(row EQUAL -1)
    string(APPEND source "std::string_view ${function}() {\n  return ${view};\n}\n")
  else()
    string(APPEND rows "    Row{\"${file}\", ${view}},\n")
    math(EXPR n_rows "${n_rows} + 1")
  endif()
endforeach()
if(TABLE)
  string(APPEND header
    "/// Path in the project and bytes of each file.\n"
    "using Row = std::pair<std::string_view, std::string_view>;\n"
    "[[nodiscard]] std::span<const Row> ${NAME}_table();\n")
  string(APPEND source "std::span<const Row> ${NAME}_table() {\n"
    "  static const std::array<Row, ${n_rows}> rows{\n${rows}  };\n  return rows;\n}\n")
endif()
file(MAKE_DIRECTORY ${OUT})
file(WRITE ${OUT}/${NAME}_data.hpp "${header}}  // namespace rimload::data\n")
file(WRITE ${OUT}/${NAME}_data.cpp "${source}}  // namespace rimload::data\n")
