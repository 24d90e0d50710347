// Validates the glTF file named as the only argument. Prints every issue; exit code 1 when there is one
// that the specification calls an error or a warning, or one that the validator could not look at.
import { readFileSync } from "node:fs";
import validator from "gltf-validator";

const report = await validator.validateBytes(new Uint8Array(readFileSync(process.argv[2])));
for (const issue of report.issues.messages) {
  console.log(`${issue.code} ${issue.pointer ?? ""}: ${issue.message}`);
}
console.log(`${report.info.drawCallCount} draw calls, ${report.info.totalTriangleCount} triangles`);
const { numErrors, numWarnings, numInfos, truncated } = report.issues;
process.exit(numErrors + numWarnings + numInfos > 0 || truncated ? 1 : 0);
