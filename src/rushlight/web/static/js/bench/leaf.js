// The bench in the app: the same pages as on the phone, and the door.
import { html, useEffect, useState } from "../../vendor/preact-htm.js";
import { DoorPlate } from "./door.js";
import { Bench } from "./screens.js";
import { Worktop } from "./worktop.js";

export function BenchLeaf({ desk }) {
  const [top] = useState(() => new Worktop(`${desk.path}/bench`, { key: `outbox ${desk.state.id}` }));
  useEffect(() => {
    const heard = event => top.heard(event);
    desk.ears.add(heard);
    top.renew();
    return () => desk.ears.delete(heard);
  }, [top]);
  return html`<${DoorPlate} desk=${desk} /><${Bench} top=${top} />`;
}
