// Runs while the program is built: reads the advance of every character of B612's four faces and writes them
// as a C++ table, so that core breaks lines by the font's own figures and links no font library.
#include <ft2build.h>
#include FT_FREETYPE_H

#include <cstdio>
#include <fstream>
#include <iostream>
#include <string>

namespace {

constexpr const char* kFaces[] = {"B612-Regular", "B612-Bold", "B612Mono-Regular", "B612Mono-Bold"};

/// Writes one face as `{code point, advance in thousandths of the em}` in the order of the code points.
bool writeFace(FT_Library library, const std::string& file, int number, std::ofstream& out) {
  FT_Face face = nullptr;
  if (FT_New_Face(library, file.c_str(), 0, &face) != 0) {
    std::cerr << "read_advances: cannot read the font " << file << "; install the package fonts-b612\n";
    return false;
  }
  out << "constexpr Advance face" << number << "[] = {\n";
  FT_UInt glyph = 0;
  for (FT_ULong code = FT_Get_First_Char(face, &glyph); glyph != 0;
       code = FT_Get_Next_Char(face, code, &glyph)) {
    if (FT_Load_Glyph(face, glyph, FT_LOAD_NO_SCALE) != 0) return false;
    out << "{" << code << "," << face->glyph->advance.x << "},\n";
  }
  out << "};\nconstexpr int kUnits" << number << " = " << face->units_per_EM << ";\n";
  FT_Done_Face(face);
  return true;
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) {
    std::cerr << "usage: read_advances FONT_FOLDER OUT.cpp\n";
    return 2;
  }
  FT_Library library = nullptr;
  if (FT_Init_FreeType(&library) != 0) return 1;
  std::ofstream out(words[2]);
  out << "// Made by core/fonts/read_advances.cpp from B612; do not edit.\n"
         "#include \"core/papers/font_table.h\"\nnamespace yw::papers {\nnamespace {\n";
  for (int i = 0; i < 4; ++i)
    if (!writeFace(library, std::string(words[1]) + "/" + kFaces[i] + ".otf", i, out)) return 1;
  out << "}  // namespace\nconst FontFace& fontFace(bool bold, bool mono) {\n  static const FontFace faces[] "
         "= {";
  for (int i = 0; i < 4; ++i) out << "{face" << i << ", kUnits" << i << "}" << (i < 3 ? ", " : "");
  out << "};\n  return faces[(mono ? 2 : 0) + (bold ? 1 : 0)];\n}\n}  // namespace yw::papers\n";
  FT_Done_FreeType(library);
  return out.flush() ? 0 : 1;
}
