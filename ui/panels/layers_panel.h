#pragma once
#include <QWidget>

namespace yw::ui {

class CanvasView;

/// Show, hide, hold still: what is drawn, what yields the click, and which question the colors answer.
class LayersPanel : public QWidget {
  Q_OBJECT
 public:
  explicit LayersPanel(const QList<CanvasView*>& views, QWidget* parent = nullptr);
};

}  // namespace yw::ui
