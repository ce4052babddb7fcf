// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {

struct Colour {
  unsigned rgb = 0x000000;  ///< 0xRRGGBB
};

struct Pen {
  double width_mm = 0.18;
  Colour colour;
  std::vector<double> dash_mm = {};  ///< on, off, …; empty for a full line; ends are round
};

/// A run of straight lines and arcs (bulge as in OutlineVertex), in the page's frame.
struct Trail {
  std::vector<OutlineVertex> vertices;
  bool closed = false;
};
using Path = std::vector<Trail>;

/// How a text is set. The anchor says which point of the text stands at the given place: along it
/// 0 its start … 1 its end; across it 0 the base line … 1 the top of the capitals.
struct Lettering {
  double height_mm = 2.5;  ///< of the capitals
  double along = 0.0;
  double across = 0.0;
  Colour colour = {};
  bool upright = false;          ///< turned a quarter counter-clockwise: read from the right
  std::optional<Colour> behind;  ///< clears the paper behind the text with this
};

/// A text on the page and the box that it fills.
struct PlacedText {
  std::string text;
  Rect2 box;
  bool upright = false;
};

/// A page of a drawing, kept as a list of what was drawn and written out as SVG or PDF.
///
/// Frame: millimetres on paper, origin at the lower left corner of the page, x to the right, y up.
/// The SVG has its y downwards: a point (x, y) of the page is (x, height − y) there; one user unit
/// is one millimetre. Lines, arcs and circles go out with 0.001 mm in SVG; in PDF to 1/256 point
/// (Cairo's grid) and arcs as splines.
///
/// Text is text in both: in SVG with its measured length, so that another font cannot make it run
/// into its neighbour; in PDF as an embedded subset of DejaVu Sans, or of what the machine has in
/// its stead (fontconfig decides, and text sizes follow). Characters that XML forbids and broken
/// UTF-8 become U+FFFD.
///
/// Same calls on the same machine, same bytes: no date, no counters, no locale.
class Canvas {
 public:
  /// Requires a finite, positive page. `title` names the document to its readers.
  Canvas(double width_mm, double height_mm, std::string title);

  double width_mm() const { return width_mm_; }
  double height_mm() const { return height_mm_; }
  const std::string& title() const { return title_; }

  /// What follows up to the matching End belongs to a group with this class (SVG only).
  void Begin(std::string name);
  void End();

  /// Fills (even-odd) first, then draws the lines. Requires finite points.
  void Draw(Path path, std::optional<Colour> fill, std::optional<Pen> pen);
  /// `name` becomes the circle's class, so that readers of the SVG can find it.
  void Draw(const Circle& circle, std::optional<Colour> fill, std::optional<Pen> pen,
            std::string name = "");
  /// Parallel lines `pitch_mm` apart at an angle from the x axis, where they lie inside `path`
  /// (even-odd). They lie on one grid for the whole page, so that neighbours match.
  void Hatch(const Path& path, double angle_rad, double pitch_mm, const Pen& pen);

  void Write(const std::string& text, const Vec2& at, const Lettering& lettering);
  /// The box that Write would fill.
  Rect2 BoxOf(const std::string& text, const Vec2& at, const Lettering& lettering) const;

  /// Where the page's number stands if the page goes into a booklet.
  void KeepFolio(const Rect2& place) { folio_ = place; }
  const std::optional<Rect2>& folio() const { return folio_; }

  /// All texts so far, in order.
  const std::vector<PlacedText>& texts() const { return texts_; }
  /// No text comes nearer to the box than `clear_mm`, and it lies on the page.
  bool Free(const Rect2& box, double clear_mm) const;
  /// Length of the lines drawn so far within the box [mm]; hatching does not count.
  double InkIn(const Rect2& box) const;
  /// Length of the hatching within it.
  double HatchIn(const Rect2& box) const;

  std::string Svg() const;
  std::string Pdf() const;
  /// What Svg() holds between its white page and its end, to be put together with others of the
  /// same page; and the opening of such a document.
  std::string SvgItems() const;
  std::string SvgOpening() const;

  struct Shape {
    Path path;
    std::optional<Colour> fill;
    std::optional<Pen> pen;
  };
  struct Disc {
    Circle circle;
    std::optional<Colour> fill;
    std::optional<Pen> pen;
    std::string name;
  };
  struct Words {
    std::string text;
    Vec2 start = Vec2::Zero();  ///< of the base line
    double height_mm = 2.5;
    double length_mm = 0.0;  ///< as measured
    Colour colour;
    bool upright = false;
  };
  struct GroupStart {
    std::string name;
  };
  struct GroupEnd {};
  using Item = std::variant<Shape, Disc, Words, GroupStart, GroupEnd>;
  const std::vector<Item>& items() const { return items_; }

 private:
  void AddInk(const Path& path);

  double width_mm_, height_mm_;
  std::string title_;
  std::vector<Item> items_;
  std::vector<PlacedText> texts_;
  std::vector<std::pair<Vec2, Vec2>> ink_, hatch_;
  int open_groups_ = 0;
  std::optional<Rect2> folio_;
};

/// Several pages in one PDF document, titled as the first. Requires at least one page.
std::string WritePdf(const std::vector<Canvas>& pages);

/// What letters drawings on this machine.
struct LetteringFont {
  bool opens = true;    ///< false: the font's file is known and cannot be read; no PDF can be made
  bool wanted = false;  ///< it is DejaVu Sans
  std::string family;
};
LetteringFont FontThatLetters();

/// The part of `text` that fits into `length_mm` at this height, with "…" where it was cut.
std::string Fitted(const std::string& text, double length_mm, double height_mm);

/// Length of a text [mm].
double LengthOf(const std::string& text, double height_mm);

}  // namespace lidwright
