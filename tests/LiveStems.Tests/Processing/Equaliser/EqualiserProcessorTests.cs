using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Equaliser;
using Xunit;

namespace LiveStems.Tests.Processing.Equaliser;

public class EqualiserProcessorTests
{
    [Fact]
    public void ImpulseResponseHasTheGainOfTheAnaloguePrototype()
    {
        EqualiserProcessor processor = new();
        void Set(string id, double value) => processor.SetParameter(processor.Description.IndexOf(id), value);
        Set("band1.on", 0);
        Set("band4.on", 1);
        Set("band4.frequencyHz", 3000);
        Set("band4.gainDb", 9);
        Set("band4.q", 2);
        processor.Prepare(new ProcessingFormat(44_100, 8192));
        float[] left = new float[8192], right = new float[8192];
        left[0] = right[0] = 1;
        processor.Process(new StereoBlock(left, right));
        FilterSettings settings = new(FilterShape.Bell, 3000, 9, 2, 2);
        foreach (double f in new double[] { 100, 1000, 2500, 3000, 5000, 12000, 20000 })
        {
            Complex sum = 0;
            for (int n = 0; n < left.Length; n++)
            {
                sum += left[n] * Complex.FromPolarCoordinates(1, -2 * Math.PI * f * n / 44_100);
            }

            Assert.Equal(AnaloguePrototype.GainDb(settings, f), Decibels.FromAmplitude(Complex.Abs(sum)), 0.1);
        }
    }
}
