// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstring>
#include <string_view>

#include "lidwright/base/problem.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/trace/mesh.h"
#include "trace/mesh_points.h"

namespace lidwright {
namespace {

constexpr std::size_t kHeader_bytes = 84, kFacet_bytes = 50;

bool IsBlank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f';
}

std::uint32_t LittleEndian(const char* at) {
  std::uint32_t value = 0;
  for (int i = 3; i >= 0; --i) value = value << 8 | static_cast<unsigned char>(at[i]);
  return value;
}

double FloatAt(const char* at) {
  const std::uint32_t bits = LittleEndian(at);
  float value;
  std::memcpy(&value, &bits, sizeof value);
  return value;
}

// How often `what` stands in the text, counted up to `most`.
std::size_t Count(std::string_view text, std::string_view what, std::size_t most) {
  std::size_t count = 0;
  for (std::size_t at = text.find(what); at != text.npos && count < most;
       at = text.find(what, at + what.size())) {
    ++count;
  }
  return count;
}

class StlReader {
 public:
  StlReader(const std::string& bytes, const std::string& file_name)
      : text_(bytes), file_(file_name) {}

  MeshReading Read() {
    if (text_.empty()) {
      Fail(0, "the file is empty");
    } else if (HasBinarySize()) {
      ReadBinary(LittleEndian(text_.data() + 80));
    } else if (LooksLikeText()) {
      ReadText();
    } else {
      TellWhatItIs();
    }
    if (reading_.problems.empty() && reading_.mesh.facets.empty()) Fail(0, "holds no facet");
    if (!reading_.problems.empty()) reading_.mesh = {};
    return std::move(reading_);
  }

 private:
  bool HasBinarySize() const {
    return text_.size() >= kHeader_bytes &&
           text_.size() - kHeader_bytes ==
               std::size_t{LittleEndian(text_.data() + 80)} * kFacet_bytes;
  }

  bool LooksLikeText() const {
    const std::string_view start = std::string_view(text_).substr(MarkBytes(), 2048);
    const std::size_t first = start.find_first_not_of(" \t\r\n\f");
    return first != start.npos && Starts(start.substr(first), "solid") &&
           start.find('\0') == start.npos;
  }

  // Of a byte order mark, which some editors put before a text.
  std::size_t MarkBytes() const { return text_.compare(0, 3, "\xEF\xBB\xBF") == 0 ? 3 : 0; }

  // Case does not matter in an ASCII file's words.
  static bool Starts(std::string_view text, std::string_view word) {
    if (text.size() < word.size()) return false;
    for (std::size_t i = 0; i < word.size(); ++i) {
      const char c = text[i];
      if ((c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c) != word[i]) return false;
    }
    return true;
  }

  static bool Is(std::string_view found, std::string_view word) {
    return found.size() == word.size() && Starts(found, word);
  }

  void Fail(int line, const std::string& rule, const std::string& hint = "",
            const std::string& place = "") {
    reading_.problems.push_back({file_, line, place, "", rule, hint});
  }
  static std::string Quoted(std::string_view word) {
    return "\"" + WithoutControls(std::string(word.substr(0, 40))) + "\"";
  }

  // Neither a whole binary file nor a text.
  void TellWhatItIs() {
    const std::string_view view(text_);
    if (Starts(view, "pk\x03\x04")) {
      return Fail(0, "is no STL file but a ZIP archive (3MF files are)", "export the mesh as STL");
    }
    // Letters and blanks alone may be anything; other bytes are what a binary header is filled
    // with.
    const bool text = std::none_of(view.begin(), view.end(), [](char c) {
      const auto byte = static_cast<unsigned char>(c);
      return !IsBlank(c) && (byte < 0x20 || byte == 0x7F || byte >= 0xF8);
    });
    if (view.size() < kHeader_bytes && !text) {
      return Fail(0,
                  "is a truncated STL file: it ends within the header, after " +
                      std::to_string(view.size()) + " of " + std::to_string(kHeader_bytes) +
                      " bytes",
                  "export or copy it again");
    }
    if (view.find_first_not_of(" \t\r\n\f") == view.npos || view.size() < 15) {
      return Fail(0,
                  "is no STL file: it holds nothing but " + std::to_string(view.size()) + " bytes");
    }
    if (view.find('\0') == view.npos) {
      return Fail(0, "is no STL file: a text that does not begin with \"solid\"",
                  "export the mesh as STL, binary or ASCII");
    }
    const std::size_t count = LittleEndian(text_.data() + 80);
    const std::size_t needed = kHeader_bytes + count * kFacet_bytes;
    if (Count(view, "\xEF\xBF\xBD", 3) == 3) {
      return Fail(0, "was opened and saved as text: its bytes are replaced for good",
                  "export it again");
    }
    // A program that turns LF into CRLF leaves no LF without a CR before it.
    if (view.find('\n') != view.npos &&
        Count(view, "\n", view.size()) == Count(view, "\r\n", view.size()) &&
        Count(view, "\n", 2) == 2) {
      return Fail(0, "was converted as if it were text: every LF has a CR before it",
                  "copy the file again as binary");
    }
    if (count > kMostFacets) {
      return Fail(0, "is no STL file, or too large: it claims " + std::to_string(count) +
                         " facets; the most are " + std::to_string(kMostFacets));
    }
    if (view.size() < needed) {
      return Fail(0,
                  "is truncated: " + std::to_string(count) + " facets are promised, " +
                      std::to_string((view.size() - kHeader_bytes) / kFacet_bytes) + " are there",
                  "export or copy it again");
    }
    reading_.notes.push_back(std::to_string(view.size() - needed) +
                             " bytes after the last facet are passed over");
    ReadBinary(static_cast<std::uint32_t>(count));
  }

  bool TooMany(std::size_t count) {
    if (count <= kMostFacets) return false;
    Fail(0, "has too many facets, the most are " + std::to_string(kMostFacets),
         "export it coarser: a hinge needs 0.05 mm, not more");
    return true;
  }

  void ReadBinary(std::uint32_t count) {
    if (TooMany(count)) return;
    PointStore points(&reading_.mesh.points, count / 2 + 16);
    reading_.mesh.facets.reserve(count);
    const char* at = text_.data() + kHeader_bytes;
    for (std::uint32_t f = 0; f < count; ++f, at += kFacet_bytes) {
      std::array<std::uint32_t, 3> facet{};
      for (std::size_t k = 0; k < 3; ++k) {
        const char* corner = at + 12 + 12 * k;
        const Vec3 p(FloatAt(corner), FloatAt(corner + 4), FloatAt(corner + 8));
        if (!p.allFinite()) {
          return Fail(0, "a coordinate is not a finite number", "",
                      "facet " + std::to_string(f + 1));
        }
        facet[k] = points.Index(p);
      }
      reading_.mesh.facets.push_back(facet);
    }
  }

  // A line ends with LF, CR LF, or CR alone as in files of long ago.
  bool EndsLine(std::size_t at) const {
    return text_[at] == '\n' ||
           (text_[at] == '\r' && (at + 1 >= text_.size() || text_[at + 1] != '\n'));
  }

  std::string_view Word() {
    for (; at_ < text_.size() && IsBlank(text_[at_]); ++at_) line_ += EndsLine(at_);
    const std::size_t start = at_;
    while (at_ < text_.size() && !IsBlank(text_[at_])) ++at_;
    return std::string_view(text_).substr(start, at_ - start);
  }

  void SkipLine() {
    while (at_ < text_.size() && !EndsLine(at_)) ++at_;
  }

  bool Expect(std::string_view word) {
    const std::string_view found = Word();
    if (Is(found, word)) return true;
    if (at_ >= text_.size()) {  // what stands here is cut off, if anything does
      Fail(line_,
           "is truncated: it ends in the middle of facet " +
               std::to_string(reading_.mesh.facets.size() + 1),
           "export or copy it again");
    } else {
      Fail(line_, Quoted(word) + " is expected here, not " + Quoted(found));
    }
    return false;
  }

  bool Number(double* value) {
    std::string_view word = Word();
    const std::string_view whole = word;
    if (!word.empty() && word[0] == '+') word.remove_prefix(1);
    float number = 0.0F;  // as binary files have it: equal corners stay equal
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), number);
    if (error == std::errc::result_out_of_range && end == word.data() + word.size()) {
      const bool tiny = word.find("e-") != word.npos || word.find("E-") != word.npos;
      number = tiny ? 0.0F : HUGE_VALF;
    } else if (error != std::errc{} || end != word.data() + word.size()) {
      if (at_ >= text_.size()) return Expect("a number");
      Fail(line_, "a number is expected here, not " + Quoted(whole),
           whole.find(',') == whole.npos ? "" : "decimals are written with a point");
      return false;
    }
    if (!std::isfinite(number)) {
      Fail(line_, "a coordinate is not a finite number: " + Quoted(whole));
      return false;
    }
    *value = number;
    return true;
  }

  void ReadText() {
    at_ = MarkBytes();
    PointStore points(&reading_.mesh.points, text_.size() / 500 + 16);
    int solids = 0;
    bool open = false;
    for (;;) {
      const std::string_view word = Word();
      if (word.empty()) break;
      if (Is(word, "endsolid")) {
        open = false;
        SkipLine();
      } else if (Is(word, "solid")) {
        ++solids;
        open = true;
        SkipLine();
      } else if (Is(word, "facet")) {
        if (TooMany(reading_.mesh.facets.size() + 1) || !ReadFacet(points)) return;
      } else {
        return Fail(line_, "\"facet\" or \"endsolid\" is expected here, not " + Quoted(word));
      }
    }
    if (open && !reading_.mesh.facets.empty()) {
      reading_.notes.push_back("the text lacks its \"endsolid\": it may have lost facets");
    }
    if (solids > 1) {
      reading_.notes.push_back(std::to_string(solids) + " solids in one file are taken together");
    }
  }

  bool ReadFacet(PointStore& points) {
    // The normal is not used, and some programs write "nan" for it.
    if (!Expect("normal")) return false;
    for (int i = 0; i < 3; ++i) Word();
    if (!Expect("outer") || !Expect("loop")) return false;
    std::array<std::uint32_t, 3> facet{};
    for (std::uint32_t& corner : facet) {
      Vec3 p;
      if (!Expect("vertex") || !Number(&p.x()) || !Number(&p.y()) || !Number(&p.z())) return false;
      corner = points.Index(p);
    }
    if (!Expect("endloop") || !Expect("endfacet")) return false;
    reading_.mesh.facets.push_back(facet);
    return true;
  }

  const std::string& text_;
  const std::string& file_;
  MeshReading reading_;
  std::size_t at_ = 0;
  int line_ = 1;
};

}  // namespace

MeshReading ReadStl(const std::string& bytes, const std::string& file_name) {
  return StlReader(bytes, file_name).Read();
}

}  // namespace lidwright
