#pragma once
#include <QPainter>

#include "core/findings/findings.h"
#include "ui/paint/theme.h"

class QApplication;

namespace yw::ui {

/// The look of the whole window: Light or Dusk. Widgets that paint for themselves read currentTheme() in
/// every paintEvent and repaint on PaletteChange, which setLook() brings about.
const Theme& currentTheme();
void setLook(Theme::Look look);

/// Sizes of type on screen, pixels of em: notes, text, heads.
inline constexpr int kNoteSize = 11, kTextSize = 13, kHeadSize = 16;

/// Severity by shape (ISO 3864-1: a triangle warns): Danger solid triangle, Won't work solid square, Close to
/// limit open square, Note a dot.
void paintSeverity(QPainter& painter, const QRectF& box, findings::Severity severity, const Theme& theme);
QString severityWord(findings::Severity severity);

}  // namespace yw::ui
