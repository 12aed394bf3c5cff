#pragma once
#include <QWidget>

#include "core/circuit/protection.h"
#include "ui/document/document.h"

class QLabel;
class QPushButton;

namespace yw::ui {

/// What a port or fuse position should have by what it carries: one sentence, and buttons that fit the usual
/// fuse or take the thinnest wire of the yard that does. Hidden where nothing is carried.
class ProtectionLine : public QWidget {
  Q_OBJECT
 public:
  explicit ProtectionLine(Document& document, QWidget* parent = nullptr);
  void showPosition(base::Id position);

 private:
  void offerFuse(const circuit::Protection& protection);
  void offerWire(const circuit::Protection& protection);
  void fitFuse();
  void takeWire();
  Document& document_;
  QLabel* words_;
  QPushButton* fuseButton_;
  QPushButton* wireButton_;
  base::Id position_, cable_, wire_;
  base::Current fuse_;
};

/// The yard's wire of that gauge or the next thicker one with the conductors of `like`, copper; none if there
/// is no such wire.
base::Id wireOfGauge(const yard::Yard& yard, int gauge, const yard::Wire& like);

}  // namespace yw::ui
