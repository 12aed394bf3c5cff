#pragma once
#include "core/findings/findings.h"

// One verdict a file; rule_table.cpp lists them.
namespace yw::findings::verdicts {

void lowVolts(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void willNotLight(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void portPixels(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void portAmps(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void sectionAmps(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void fuseAndWire(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void fuseLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void fuseOpensAtFullWhite(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void supplyLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void conductorLimit(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void dataReach(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void receiverReach(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void mixedVolts(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void mixedChips(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void addressOverlap(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void circuitLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void belowGround(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void groupParted(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void plugs(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void crossing(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void keepOut(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void positivesJoined(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void ownedLeadShort(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void propUnknown(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void pastTheEnd(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void shapeWarning(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void sightTriangle(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void restingStrung(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void universesFull(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void pictureScale(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void supplyUnplugged(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void supplyHot(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void gfciLeakage(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void gfciMissing(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void receptacleLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void cordLoad(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void cordDrop(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void cordChain(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void feedLost(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void shortNotCleared(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void zeroOpen(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void thinReturn(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void pinkWhite(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void inrush(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);

void lowMargin(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void measuredDiffers(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
void measurementUnused(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);

}  // namespace yw::findings::verdicts
