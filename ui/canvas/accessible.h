#pragma once

namespace yw::ui {

class CanvasView;

/// Makes every prop, box and outlet of the drawings a named thing with a place for assistive tools, which see
/// nothing of a QGraphicsView by themselves. Call once; later calls do nothing.
void installCanvasAccessibility();

/// Tells assistive tools what is selected now.
void announceSelection(CanvasView& view);

}  // namespace yw::ui
