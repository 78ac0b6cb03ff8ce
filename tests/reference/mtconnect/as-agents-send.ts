/**
 * Documents as an agent of a machine with a rotary table and an inch readout would send them, and one more
 * machine behind it; put together by hand. In the order of elements and attributes that agents write.
 */
export const STREAMS = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.4" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="urn:mtconnect.org:MTConnectStreams:2.4 http://example.invalid/MTConnectStreams_2.4.xsd">
  <Header creationTime="2026-03-03T07:15:02Z" sender="shop-pc" instanceId="1772522000" version="2.4.0.1" deviceModelChangeTime="2026-03-03T06:00:00.120Z" bufferSize="131072" nextSequence="20518" firstSequence="1" lastSequence="20517"/>
  <Streams>
    <DeviceStream name="knee-mill" uuid="shop-7-knee-mill">
      <ComponentStream component="Linear" name="X" componentId="x1">
        <Samples>
          <Position dataItemId="x3" timestamp="2026-03-03T07:15:01.871Z" name="Xact" sequence="20514" subType="ACTUAL">101.5999985</Position>
          <Position dataItemId="x3" timestamp="2026-03-03T07:15:01.921Z" name="Xact" sequence="20517" subType="ACTUAL">101.6254</Position>
          <Position dataItemId="x4" timestamp="2026-03-03T07:15:01.871Z" name="Xcom" sequence="20515" subType="COMMANDED">1.016254E2</Position>
          <PositionTimeSeries dataItemId="x5" timestamp="2026-03-03T07:15:01.871Z" sequence="20516" subType="ACTUAL" sampleCount="3" sampleRate="100">101.6 101.61 101.62</PositionTimeSeries>
        </Samples>
        <Condition><Normal dataItemId="x6" timestamp="2026-03-03T06:00:00.120Z" sequence="14" type="POSITION"/></Condition>
      </ComponentStream>
      <ComponentStream component="Linear" name="Y" nativeName="Y1" componentId="y1">
        <Samples>
          <Position dataItemId="y3" timestamp="2026-03-03T06:00:00.120Z" name="Yact" sequence="12" subType="ACTUAL">UNAVAILABLE</Position>
          <Position dataItemId="y4" timestamp="2026-03-03T07:10:00.000Z" sequence="19500" subType="ACTUAL" resetTriggered="ACTION_COMPLETE" statistic="AVERAGE" duration="60">0</Position>
        </Samples>
        <Events><AxisState dataItemId="y9" timestamp="2026-03-03T06:00:00.120Z" sequence="13">UNAVAILABLE</AxisState></Events>
      </ComponentStream>
      <ComponentStream component="Rotary" name="C" componentId="r1">
        <Samples><Angle dataItemId="r3" timestamp="2026-03-03T07:00:00Z" sequence="19001" subType="ACTUAL">90</Angle></Samples>
        <Condition>
          <Warning dataItemId="r4" timestamp="2026-03-03T07:00:00Z" sequence="19002" type="ACTUATOR" qualifier="HIGH" conditionId="w1">brake drags</Warning>
        </Condition>
      </ComponentStream>
      <ComponentStream component="Path" componentId="p1">
        <Samples><PathPosition dataItemId="p2" timestamp="2026-03-03T07:00:00Z" sequence="19003" subType="ACTUAL">101.6 0 12.5</PathPosition></Samples>
        <Events><Block dataItemId="p3" timestamp="2026-03-03T07:00:00Z" sequence="19000">G1 X101.6254</Block></Events>
      </ComponentStream>
      <ComponentStream component="Device" name="knee-mill" componentId="d1">
        <Events>
          <Availability dataItemId="avail" timestamp="2026-03-03T06:00:00.120Z" sequence="11">AVAILABLE</Availability>
          <AssetChanged dataItemId="asset" timestamp="2026-03-03T06:00:00.120Z" sequence="10" assetType="CuttingTool">UNAVAILABLE</AssetChanged>
        </Events>
      </ComponentStream>
    </DeviceStream>
    <DeviceStream name="lathe" uuid="shop-8-lathe"/>
  </Streams>
</MTConnectStreams>`;

export const DEVICES = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectDevices xmlns="urn:mtconnect.org:MTConnectDevices:2.4">
  <Header creationTime="2026-03-03T07:15:02Z" sender="shop-pc" instanceId="1772522000" version="2.4.0.1" deviceModelChangeTime="2026-03-03T06:00:00.120Z" bufferSize="131072" assetBufferSize="8096" assetCount="2"><AssetCounts><AssetCount assetType="CuttingTool">2</AssetCount></AssetCounts></Header>
  <Devices>
    <Agent id="agent" name="Agent" uuid="shop-pc-agent" mtconnectVersion="2.4"><DataItems><DataItem category="EVENT" id="agent-avail" type="AVAILABILITY"/></DataItems></Agent>
    <Device id="d1" name="knee-mill" uuid="shop-7-knee-mill">
      <Description manufacturer="none">Knee mill by the window</Description>
      <DataItems>
        <DataItem category="EVENT" id="avail" type="AVAILABILITY"/>
        <DataItem category="EVENT" id="asset" type="ASSET_CHANGED" discrete="true"/>
      </DataItems>
      <Components>
        <Axes id="a1" name="axes">
          <Components>
            <Linear id="x1" name="X">
              <DataItems>
                <DataItem category="CONDITION" id="x6" type="POSITION"/>
                <DataItem category="SAMPLE" id="x5" type="POSITION" subType="ACTUAL" units="MILLIMETER" representation="TIME_SERIES" sampleRate="100"/>
                <DataItem category="SAMPLE" id="x4" name="Xcom" type="POSITION" subType="COMMANDED" units="MILLIMETER" nativeUnits="INCH" coordinateSystem="MACHINE"/>
                <DataItem category="SAMPLE" id="x3" name="Xact" type="POSITION" subType="ACTUAL" units="MILLIMETER" nativeUnits="INCH" nativeScale="0.0001" significantDigits="8" coordinateSystem="MACHINE">
                  <Filters><Filter type="MINIMUM_DELTA">0.001</Filter></Filters>
                </DataItem>
              </DataItems>
            </Linear>
            <Linear id="y1" name="Y" nativeName="Y1">
              <DataItems>
                <DataItem category="SAMPLE" id="y4" type="POSITION" subType="ACTUAL" statistic="AVERAGE" units="MILLIMETER"><InitialValue>0</InitialValue><ResetTrigger>ACTION_COMPLETE</ResetTrigger></DataItem>
                <DataItem category="SAMPLE" id="y3" name="Yact" type="POSITION" subType="ACTUAL" units="MILLIMETER"><Source>encoder 2</Source><Constraints><Minimum>-200</Minimum><Maximum>200</Maximum></Constraints></DataItem>
              </DataItems>
            </Linear>
            <Rotary id="r1" name="C"><DataItems><DataItem category="SAMPLE" id="r3" type="ANGLE" subType="ACTUAL" units="DEGREE"/></DataItems></Rotary>
          </Components>
        </Axes>
        <Controller id="c1"><Components><Path id="p1"><DataItems><DataItem category="SAMPLE" id="p2" type="PATH_POSITION" subType="ACTUAL" units="MILLIMETER_3D"/></DataItems></Path></Components></Controller>
      </Components>
    </Device>
    <Device id="d2" name="lathe" uuid="shop-8-lathe"/>
  </Devices>
</MTConnectDevices>`;

/** A number to go on from that has fallen out of what the agent keeps. */
export const ERROR = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectError xmlns="urn:mtconnect.org:MTConnectError:2.4">
  <Header creationTime="2026-03-03T07:15:02Z" sender="shop-pc" instanceId="1772522000" version="2.4.0.1" bufferSize="131072"/>
  <Errors><Error errorCode="OUT_OF_RANGE">'from' must be greater than 20000</Error></Errors>
</MTConnectError>`;
